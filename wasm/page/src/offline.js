// Registers the service worker, and says when a new version of the page waits to be used, or has been taken
// into use by another tab.

/** @typedef {{waits(use: () => void): void, isUsed(use: () => void): void}} Tell */

/** @param {Tell} tell */
export async function readyForOffline(tell) {
  if (!("serviceWorker" in navigator)) return;
  let controlled = navigator.serviceWorker.controller !== null;
  let asked = false;
  try {
    const registration = await navigator.serviceWorker.register("./sw.js", { updateViaCache: "none" });
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (asked) location.reload();
      // Another tab has asked. What is shown here goes on with the files of its own version.
      else if (controlled) tell.isUsed(() => location.reload());
      controlled = true;
    });
    const offer = (/** @type {ServiceWorker | null} */ worker) => {
      if (!worker || !controlled) return;
      tell.waits(() => {
        asked = true;
        worker.postMessage("use-now");
      });
    };
    if (registration.waiting) offer(registration.waiting);
    registration.addEventListener("updatefound", () => {
      const worker = registration.installing;
      worker?.addEventListener("statechange", () => {
        if (worker.state === "installed") offer(worker);
      });
    });
  } catch {
    // Private windows and plain http from another machine refuse; the page works without.
  }
}

/** Takes the stored copies of the page itself off the device. */
export async function forgetOffline() {
  if (!("serviceWorker" in navigator)) return;
  const registration = await navigator.serviceWorker.getRegistration();
  await registration?.unregister();
  // Another folder of the same server may have a page of its own.
  const mine = `apiary-almanac ${new URL("./", location.href).pathname} `;
  for (const name of await caches.keys()) if (name.startsWith(mine)) await caches.delete(name);
}
