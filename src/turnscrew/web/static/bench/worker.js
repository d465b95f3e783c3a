// Keeps the page of the bench, whole and of one version, for when there is no network.
// VERSION, PAGE and KEPT are written in front of this by the server.

const SHELF = `turnscrew-bench-${VERSION}`;

addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(SHELF)
      .then((shelf) => shelf.addAll(KEPT.map((one) => new Request(one, { cache: "reload" }))))
      .then(() => self.skipWaiting())
  );
});

addEventListener("activate", (event) => {
  event.waitUntil(
    caches.keys()
      .then((names) => Promise.all(
        names.filter((one) => one.startsWith("turnscrew-bench-") && one !== SHELF)
          .map((one) => caches.delete(one))
      ))
      .then(() => self.clients.claim())
  );
});

addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== location.origin) return;
  if (!KEPT.includes(address.pathname)) return;
  event.respondWith(
    caches.open(SHELF)
      .then((shelf) => shelf.match(address.pathname))
      .then((found) => found || fetch(event.request))
  );
});
