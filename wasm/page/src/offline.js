// Registers the service worker, and says when a new version of the page waits to be used.

/** @param {(use: () => void) => void} tell */
export async function readyForOffline(tell) {
  if (!("serviceWorker" in navigator)) return;
  const controlled = navigator.serviceWorker.controller !== null;
  try {
    const registration = await navigator.serviceWorker.register("./sw.js");
    const offer = (/** @type {ServiceWorker | null} */ worker) => {
      if (!worker || !controlled) return;
      tell(() => {
        navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
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
  for (const name of await caches.keys()) if (name.startsWith("apiary-almanac ")) await caches.delete(name);
}
