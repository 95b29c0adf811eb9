/**
 * The kill switch: put in the place of service-worker.js, it takes back everything that one has kept. Every device
 * that visits again forgets its copy and asks the server from then on.
 */
(function () {
  "use strict";

  const FAMILY = "pulse-ruler|" + new URL(self.registration.scope).pathname + "|";

  async function takeBack() {
    for (const name of await caches.keys()) if (name.startsWith(FAMILY)) await caches.delete(name);
    await self.registration.unregister();
  }

  self.addEventListener("install", () => self.skipWaiting());
  self.addEventListener("activate", (event) => event.waitUntil(takeBack()));
})();
