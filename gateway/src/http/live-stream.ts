import type { ServerResponse } from "node:http";
import type { HttpComponents } from "./components.ts";
import type { LiveEvent } from "./contract.ts";
import { LivePace } from "./live-pace.ts";
import { type LiveTexts, textOfEvent } from "./live-texts.ts";
import { alarmChangeView, alarmView } from "./views.ts";

const heartbeatMs = 5000;
const maxResumed = 500;

/** What one listener of the stream asked for. */
export interface LiveOptions {
  /** Only these points; null for all. */
  readonly points: ReadonlySet<string> | null;
  /** Latest per point wins within this time; news after a longer silence, and with 0 all, is sent at once. */
  readonly everyMs: number;
  /** Journal seq after which alarms are wanted again. */
  readonly lastEventId: number | null;
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
  let over = false;
  const pace = new LivePace({
    response,
    elapsedMs: components.elapsedMs,
    texts,
    everyMs: options.everyMs,
    onStuck: end,
  });

  function write(chunk: string): void {
    if (!over) response.write(chunk);
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
    pace.add(key, told, seq);
  });
  // An event, not a comment: a page can see it, and knows by its absence that this gateway hangs. No id of its own.
  const beating = setInterval(() => {
    const beat: LiveEvent = { event: "heartbeat", data: { now: new Date(components.now()).toISOString() } };
    write(`event: ${beat.event}\ndata: ${JSON.stringify(beat.data)}\n\n`);
  }, heartbeatMs);

  function end(): void {
    if (over) return;
    over = true;
    pace.end();
    clearInterval(beating);
    unsubscribe();
    response.end();
    response.destroy();
  }
  response.on("close", end);
  return end;
}
