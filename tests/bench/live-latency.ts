/** Milliseconds from publishing a pack to its live event, as a page hears it. */
export async function listenLive(
  api: (path: string) => Promise<Response>,
  point: string,
): Promise<{
  /** A pack with this time is published now. */
  published(atMs: number): void;
  /** Ends, and gives the greatest delay of this share of the packs since the last time, ms. */
  share(of: number): number;
  readonly count: () => number;
  forget(): void;
  stop(): Promise<void>;
}> {
  const stream = await api("/api/live?every=0");
  const reader = (stream.body as ReadableStream<Uint8Array>).getReader();
  const sentAt = new Map<string, number>();
  let latencies: number[] = [];
  const event = new RegExp(`"id":"${point}".*?"at":"([^"]+)"`);
  const listening = (async () => {
    const decoder = new TextDecoder();
    let text = "";
    for (;;) {
      const { value, done } = await reader.read();
      if (done) return;
      const nowMs = performance.now();
      text += decoder.decode(value, { stream: true });
      for (let end = text.indexOf("\n\n"); end >= 0; end = text.indexOf("\n\n")) {
        const at = event.exec(text.slice(0, end))?.[1];
        const sent = at === undefined ? undefined : sentAt.get(at);
        if (at !== undefined && sent !== undefined) {
          latencies.push(nowMs - sent);
          sentAt.delete(at);
        }
        text = text.slice(end + 2);
      }
    }
  })();
  return {
    published: (atMs) => void sentAt.set(new Date(atMs).toISOString(), performance.now()),
    share(of) {
      const sorted = latencies.toSorted((a, b) => a - b);
      return sorted[Math.floor(sorted.length * of)] ?? Number.NaN;
    },
    count: () => latencies.length,
    forget() {
      latencies = [];
    },
    async stop() {
      await reader.cancel();
      await listening;
    },
  };
}
