import type { ServerResponse } from "node:http";
import type { HttpComponents, Told } from "./components.ts";
import type { LiveEvent } from "./contract.ts";
import { alarmChangeView, alarmView } from "./views.ts";

/** Bytes a slow client may leave unread before it gets only the latest; and for how long. */
const maxUnreadBytes = 256 * 1024;
const slowForMs = 30_000;
const heartbeatMs = 5000;
const maxResumed = 500;
/** A slow client is looked at again after so long: what it asked for, but not more often than this. */
const minLookMs = 50;
/** Things of the line whose text is kept for the other streams. */
const maxTexts = 1000;

/**
 * The news of points, drums and nodes as text, made once for all streams: a view costs more than sending it. A text holds
 * until its thing is told anew, which each stream says before any of them sends.
 */
export class LiveTexts {
  private readonly texts = new Map<string, string>();

  changed(key: string): void {
    this.texts.delete(key);
  }

  /** Empty where the thing is no longer on the line. */
  of(key: string, { view }: Told, seq: number): string {
    const known = this.texts.get(key);
    if (known !== undefined) return known;
    const event = view();
    const text = event === null ? "" : textOfEvent(event, seq);
    if (this.texts.size >= maxTexts) this.texts.clear();
    this.texts.set(key, text);
    return text;
  }
}

/** What one listener of the stream asked for. */
export interface LiveOptions {
  /** Only these points; null for all. */
  readonly points: ReadonlySet<string> | null;
  /** Latest per point wins within this time; news after a longer silence, and with 0 all, is sent at once. */
  readonly everyMs: number;
  /** Journal seq after which alarms are wanted again. */
  readonly lastEventId: number | null;
}

/** One event as it goes over the line. */
function textOfEvent(event: LiveEvent, seq: number): string {
  return `id: ${seq}\nevent: ${event.event}\ndata: ${JSON.stringify(event.data)}\n\n`;
}

/** What one stream is served with. */
export interface LiveNeeds {
  readonly components: HttpComponents;
  /** Shared by all streams: the same news is made into text once. */
  readonly texts: LiveTexts;
}

/** Serves one live stream: snapshot, alarms since the last event, then changes. Ends with the connection. */
export function serveLive(
  response: ServerResponse,
  { components, texts }: LiveNeeds,
  options: LiveOptions,
): () => void {
  const latest = new Map<string, { told: Told; seq: number }>();
  let slowSinceMs: number | null = null;
  let flushedAtMs = Number.NEGATIVE_INFINITY;
  let soon: NodeJS.Immediate | null = null;
  let later: NodeJS.Timeout | null = null;
  let over = false;

  function write(chunk: string): void {
    if (!over && chunk !== "") response.write(chunk);
  }

  function flush(): void {
    if (over) return;
    flushedAtMs = components.elapsedMs();
    if (response.writableLength > maxUnreadBytes) {
      slowSinceMs ??= flushedAtMs;
      if (flushedAtMs - slowSinceMs > slowForMs) end();
      else lookIn(Math.max(minLookMs, options.everyMs));
      return;
    }
    slowSinceMs = null;
    let chunk = "";
    for (const [key, { told, seq }] of latest) chunk += texts.of(key, told, seq);
    latest.clear();
    write(chunk);
  }

  function lookIn(ms: number): void {
    later ??= setTimeout(() => {
      later = null;
      flush();
    }, ms);
  }

  /**
   * At once, but never inside of what tells: what one turn of the path tells is sent as it is at its end. What comes within
   * `everyMs` of the last sending waits for its end.
   */
  function flushSoon(): void {
    if (soon !== null) return;
    const waitMs = flushedAtMs + options.everyMs - components.elapsedMs();
    if (waitMs > 0) lookIn(waitMs);
    else
      soon = setImmediate(() => {
        soon = null;
        flush();
      });
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
      textOfEvent(
        { event: "snapshot", data: { line, alarms: components.standing().map(alarmView) } },
        components.lastSeq(),
      ),
    );
  if (options.lastEventId !== null) {
    for (const change of components.alarmChangesAfter(options.lastEventId, maxResumed)) {
      // Under the snapshot's id: a client that is cut off here again is not sent them a third time.
      write(textOfEvent({ event: "alarm", data: alarmChangeView(change) }, components.lastSeq()));
    }
  }
  const unsubscribe = components.subscribe((told, seq) => {
    const { key, about } = told;
    if (key !== null) texts.changed(key);
    if (about?.kind === "point" && options.points && !options.points.has(about.id)) return;
    // Alarms and lines are never merged: each is news of its own.
    if (key === null) {
      const event = told.view();
      if (event) write(textOfEvent(event, seq));
      return;
    }
    latest.delete(key);
    latest.set(key, { told, seq });
    flushSoon();
  });
  // An event, not a comment: a page can see it, and knows by its absence that this gateway hangs. No id of its own.
  const beating = setInterval(() => {
    const beat: LiveEvent = { event: "heartbeat", data: { now: new Date(components.now()).toISOString() } };
    write(`event: ${beat.event}\ndata: ${JSON.stringify(beat.data)}\n\n`);
  }, heartbeatMs);

  function end(): void {
    if (over) return;
    over = true;
    if (soon !== null) clearImmediate(soon);
    if (later !== null) clearTimeout(later);
    clearInterval(beating);
    unsubscribe();
    response.end();
    response.destroy();
  }
  response.on("close", end);
  return end;
}
