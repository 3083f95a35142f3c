// Keeps the site for use without a network. EDITION and FILES are written above this line when the site is built.
// The network comes first, so that nobody reads an old page; what is kept answers when it is silent or slow.

const SHELF = `call-for-heat ${self.registration.scope}`;
const NAME = `${SHELF} ${EDITION}`;
const PATIENCE = 4000; // ms to wait for the network before the kept page is shown
const RUNTIME = /\/_static\/pyodide-/; // its folder names its version: what is kept never grows old

async function keep(wanted, mode) {
  const cache = await caches.open(NAME);
  const addresses = FILES.map((name) => new URL(name, self.registration.scope)).filter(wanted);
  await Promise.all(addresses.map((address) => cache.add(new Request(address, { cache: mode }))));
}

// Older shelves go; a runtime that is still the right one moves over.
async function tidied() {
  const cache = await caches.open(NAME);
  for (const name of await caches.keys()) {
    if (!name.startsWith(`${SHELF} `) || name === NAME) continue;
    const old = await caches.open(name);
    for (const request of await old.keys()) {
      const below = request.url.slice(self.registration.scope.length);
      if (RUNTIME.test(request.url) && FILES.includes(below)) await cache.put(request, await old.match(request));
    }
    await caches.delete(name);
  }
  await self.clients.claim();
}

async function answered(request) {
  const { origin, pathname } = new URL(request.url);
  const cache = await caches.open(NAME);
  const old = await cache.match(pathname.endsWith("/") ? `${origin}${pathname}index.html` : request, { ignoreSearch: true });
  if (old && RUNTIME.test(pathname)) return old;
  if (!old) return fetch(request);
  const timeout = new Promise((resolve) => setTimeout(resolve, PATIENCE, old));
  const fresh = fetch(request).then((answer) => (answer.ok ? answer : old), () => old);
  return Promise.race([fresh, timeout]);
}

self.addEventListener("install", (event) => {
  event.waitUntil(keep(({ pathname }) => !RUNTIME.test(pathname), "no-cache").then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => event.waitUntil(tidied()));
// Sent when a bench has started: the runtime is large, and nobody who only reads should have to fetch it.
self.addEventListener("message", (event) => {
  if (event.data === "keep the runtime") event.waitUntil(keep(({ pathname }) => RUNTIME.test(pathname), "force-cache"));
});
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && request.url.startsWith(self.registration.scope)) event.respondWith(answered(request));
});
