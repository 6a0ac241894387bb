// Where the shop's computer does not answer, a page of the app says so in place
// of the browser. Nothing else is kept here, and nothing of the shop: every page
// comes from the shop's computer, or not at all. What is sent never comes by.
"use strict";
const kept = ["/offline", "{css}"], name = "offline {version}";

self.addEventListener("install", (e) => e.waitUntil((async () => {
  await (await caches.open(name)).addAll(kept);
  await self.skipWaiting();
})()));

self.addEventListener("activate", (e) => e.waitUntil((async () => {
  for (const other of await caches.keys()) if (other !== name) await caches.delete(other);
  await self.registration.navigationPreload?.enable();
  await self.clients.claim();
})()));

self.addEventListener("fetch", (e) => {
  const { pathname, search } = new URL(e.request.url);
  const page = e.request.mode === "navigate" && !/^\/(fit|sign-in)\//.test(pathname);
  if (e.request.method !== "GET" || !page && !kept.includes(pathname + search)) return;
  e.respondWith((async () => {
    try {
      return await e.preloadResponse || await fetch(e.request);
    } catch (unreached) {
      const there = await (await caches.open(name)).match(page ? kept[0] : e.request, { ignoreVary: true });
      if (there) return there;
      throw unreached;
    }
  })());
});
