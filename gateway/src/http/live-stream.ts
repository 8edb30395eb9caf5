import type { ServerResponse } from "node:http";
import type { HttpComponents, Told } from "./components.ts";
import type { LiveEvent } from "./contract.ts";
import { alarmChangeView, alarmView } from "./views.ts";

/** Bytes a slow client may leave unread before it gets only the latest; and for how long. */
const maxUnreadBytes = 256 * 1024;
const slowForMs = 30_000;
const heartbeatMs = 5000;
const maxResumed = 500;

/** What one listener of the stream asked for. */
export interface LiveOptions {
  /** Only these points; null for all. */
  readonly points: ReadonlySet<string> | null;
  /** Latest per point wins within this time; 0 sends at once. */
  readonly everyMs: number;
  /** Journal seq after which alarms are wanted again. */
  readonly lastEventId: number | null;
}

function text(event: LiveEvent, seq: number): string {
  return `id: ${seq}\nevent: ${event.event}\ndata: ${JSON.stringify(event.data)}\n\n`;
}

/** Serves one live stream: snapshot, alarms since the last event, then changes. Ends with the connection. */
export function serveLive(
  response: ServerResponse,
  components: HttpComponents,
  options: LiveOptions,
): () => void {
  const latest = new Map<string, { told: Told; seq: number }>();
  let slowSinceMs: number | null = null;
  let over = false;

  function write(chunk: string): void {
    if (!over) response.write(chunk);
  }

  function send({ view }: Told, seq: number): void {
    const event = view();
    if (event) write(text(event, seq));
  }

  function flush(): void {
    if (response.writableLength > maxUnreadBytes) {
      slowSinceMs ??= components.elapsedMs();
      if (components.elapsedMs() - slowSinceMs > slowForMs) end();
      return;
    }
    slowSinceMs = null;
    for (const { told, seq } of latest.values()) send(told, seq);
    latest.clear();
  }

  response.writeHead(200, {
    "content-type": "text/event-stream",
    "cache-control": "no-store",
    "x-accel-buffering": "no",
  });
  write("retry: 2000\n\n");
  const line = components.lineView();
  if (line)
    write(
      text(
        { event: "snapshot", data: { line, alarms: components.standing().map(alarmView) } },
        components.lastSeq(),
      ),
    );
  if (options.lastEventId !== null) {
    for (const change of components.alarmChangesAfter(options.lastEventId, maxResumed)) {
      // Under the snapshot's id: a client that is cut off here again is not sent them a third time.
      write(text({ event: "alarm", data: alarmChangeView(change) }, components.lastSeq()));
    }
  }
  const unsubscribe = components.subscribe((told, seq) => {
    const { key, about } = told;
    if (about?.kind === "point" && options.points && !options.points.has(about.id)) return;
    // Alarms and lines are never merged: each is news of its own.
    if (key === null) send(told, seq);
    else {
      latest.delete(key);
      latest.set(key, { told, seq });
      if (options.everyMs === 0) flush();
    }
  });
  const flushing = setInterval(flush, Math.max(50, options.everyMs || 1000));
  // An event, not a comment: a page can see it, and knows by its absence that this gateway hangs. No id of its own.
  const beating = setInterval(() => {
    const beat: LiveEvent = { event: "heartbeat", data: { now: new Date(components.now()).toISOString() } };
    write(`event: ${beat.event}\ndata: ${JSON.stringify(beat.data)}\n\n`);
  }, heartbeatMs);

  function end(): void {
    if (over) return;
    over = true;
    clearInterval(flushing);
    clearInterval(beating);
    unsubscribe();
    response.end();
    response.destroy();
  }
  response.on("close", end);
  return end;
}
