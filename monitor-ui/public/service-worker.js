// The one worker of the page. It keeps a single file: the page that says that there is no contact. No value, no list and
// no page of the line is ever kept: what is old must never look as if it were now.
importScripts("/push-messages.js");

const kept = "offline-1";
const offline = "/offline.html";
// A gateway that hangs answers nothing, and the browser alone would wait for minutes.
const answerWithinMs = 8000;

self.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(kept);
      await cache.add(new Request(offline, { cache: "reload" }));
      await self.skipWaiting();
    })(),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== kept) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("fetch", (event) => {
  // Only whole pages: a value that can't be had must stay one that can't be had.
  if (event.request.mode !== "navigate") return;
  event.respondWith(
    (async () => {
      try {
        return await fetch(event.request, { signal: AbortSignal.timeout(answerWithinMs) });
      } catch {
        return (await caches.match(offline)) ?? Response.error();
      }
    })(),
  );
});
