// Keeps the whole page on the device under the version of its content. A new version is fetched
// whole before it is used, and is used when the page asks for it or is next started.

const version = "__VERSION__";
const files = ["__FILES__"];
const mine = `apiary-almanac ${new URL(self.registration.scope).pathname} `;
const cacheName = mine + version;

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(cacheName).then((cache) =>
      cache.addAll(files.map((file) => new Request(file, { cache: "reload" }))),
    ),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith(mine) && name !== cacheName) await caches.delete(name);
      }
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "use-now") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(self.registration.scope)) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(cacheName);
      const address = request.mode === "navigate" ? "./" : request;
      return (await cache.match(address, { ignoreSearch: true })) ?? fetch(request);
    })(),
  );
});
