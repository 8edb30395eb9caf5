// Asks for the line, and for who looks, while the page itself is still on its way; what comes before it is kept for it.
// Where the page was quicker (null), nothing is asked for twice.
const kept = 500;
const names = ["snapshot", "heartbeat", "line", "point", "drum", "node", "alarm"];
if (globalThis.early === undefined) {
  const early = {
    stream: new EventSource("/api/live?every=500ms"),
    said: [],
    /** What hears the stream: until the page is here, this. */
    hear(event) {
      // A page that never comes: nothing is kept for it for ever.
      if (early.said.push(event) > kept) early.stream.close();
    },
    me: fetch("/api/me", { signal: AbortSignal.timeout(8000) }).catch(() => null),
  };
  for (const name of names) early.stream.addEventListener(name, (event) => early.hear(event));
  globalThis.early = early;
}
