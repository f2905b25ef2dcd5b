// Keeps the whole page on the device under the version of its content. A new version is fetched whole, each file
// checked by its hash, before it is used; it is used when the page asks for it or is next started.

const version = "__VERSION__";
/** SHA-256 of every file, by its address below this folder. @type {Record<string, string>} */
const files = { "__FILES__": "" };
const folder = new URL(self.registration.scope);
const mine = `apiary-almanac ${folder.pathname} `;
const cacheName = mine + version;
const known = new Set(Object.keys(files).map((file) => new URL(file, folder).pathname));
/** What is named by its content is the same in every version that has it. */
const named = /-[0-9A-Z]{8}\.(css|js|wasm)$/;

self.addEventListener("install", (event) => event.waitUntil(keepAll()));

async function keepAll() {
  const cache = await caches.open(cacheName);
  const kept = await Promise.allSettled(Object.keys(files).map((file) => keep(cache, file)));
  const failed = kept.find(({ status }) => status === "rejected");
  if (!failed) return;
  // Half of a version is none.
  await caches.delete(cacheName);
  throw failed.reason;
}

/** From an older version, the browser's own store or the server, whichever first has what is wanted. */
async function keep(cache, file) {
  const wanted = files[file];
  const older = named.test(file) ? await caches.match(new URL(file, folder).href) : undefined;
  const ways = [
    () => older,
    () => fetch(file, { cache: named.test(file) ? "default" : "no-cache" }),
    () => fetch(file, { cache: "reload" }),
  ];
  for (const way of ways) {
    const answer = await way();
    if (!answer?.ok) continue;
    const copy = answer.clone();
    const digest = await crypto.subtle.digest("SHA-256", await answer.arrayBuffer());
    const hex = Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
    if (hex === wanted) return cache.put(file, copy);
  }
  throw new Error(`${file} is not there as it belongs to version ${version}`);
}

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      // The version before this one stays for tabs that still run it.
      const older = (await caches.keys()).filter((name) => name.startsWith(mine) && name !== cacheName);
      for (const name of older.slice(0, -1)) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "use-now") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== folder.origin) return;
  if (request.mode === "navigate") {
    const isPage = [folder.pathname, `${folder.pathname}index.html`].includes(address.pathname);
    if (isPage) event.respondWith(kept("./", request));
  } else if (known.has(address.pathname)) {
    event.respondWith(kept(address.origin + address.pathname, request));
  } else if (address.pathname === `${folder.pathname}towns.txt`) {
    event.respondWith(keptOnceAsked(request));
  } else if (address.pathname.startsWith(folder.pathname) && named.test(address.pathname)) {
    // Of the version before, for a tab that runs it.
    event.respondWith(caches.match(request).then((found) => found ?? fetch(request)));
  }
});

/** The list of towns, which not everybody needs. */
async function keptOnceAsked(request) {
  const cache = await caches.open(cacheName);
  const found = await cache.match(request);
  if (found) return found;
  const answer = await fetch(request);
  if (answer.ok) await cache.put(request, answer.clone());
  return answer;
}

async function kept(file, request) {
  const cache = await caches.open(cacheName);
  return (await cache.match(file)) ?? fetch(request);
}
