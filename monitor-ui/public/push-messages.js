// Shows messages of the gateway on this device, whether its page is open or not, and leads to the alarm when tapped.
// It keeps no copy of the page: what is old must never look as if it were now.

/** A message as the gateway sends it; one that can't be read still says that there is something. */
function messageOf(event) {
  try {
    return event.data.json();
  } catch {
    return { title: "Something needs a look", body: "", attention: "tell", tag: "unknown", page: "#alarms" };
  }
}

self.addEventListener("push", (event) => {
  const { title, body, attention, tag, page, site } = messageOf(event);
  const wakes = attention === "wake";
  event.waitUntil(
    self.registration.showNotification(title, {
      body: site ? `${body}\n${site}` : body,
      tag,
      // What comes again about the same alarm rings again, in the place of the one before.
      renotify: true,
      requireInteraction: wakes,
      ...(wakes ? { vibrate: [400, 200, 400, 200, 400] } : {}),
      data: { page },
    }),
  );
});

self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  const page = String(event.notification.data?.page ?? "#alarms");
  const target = new URL(page.startsWith("#") ? `/${page}` : "/#alarms", self.location.origin).href;
  event.waitUntil(
    (async () => {
      const open = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
      for (const client of open) {
        try {
          await client.focus();
          await client.navigate(target);
          return;
        } catch {
          // One that this worker does not lead, or that may not come forward.
        }
      }
      await self.clients.openWindow(target);
    })(),
  );
});
