import type { Line } from "../line/index.ts";
import type { PathEvent, Stage, StageContext } from "../path/index.ts";
import { type NightWindow, nightAt, nightWindow } from "../quantities/index.ts";
import { worldCell, worldKey } from "../readings/index.ts";
import type { NightOver } from "./facts.ts";

type Context = StageContext<NightOver>;
type Heard = PathEvent & { readonly kind: "world" | "pack" };

const ends = "night";
/** Engine time before this is none yet (2001-09-09): a history is about to be told with its own times. */
const leastMs = 1e12;
const offsetKey = worldKey({ part: "clock", fact: "offset-ms" });

/** The night of a line that a moment lies in, or the next one; calendar time, epoch ms. */
export function nightOrNext({ timezone, night }: Pick<Line, "timezone" | "night">, ms: number): NightWindow {
  const { from, to } = night;
  // A clock tells parts of a millisecond; a calendar does not take them.
  const atMs = Math.floor(ms);
  const now = nightAt(atMs, timezone, from, to);
  if (now) return now;
  const today = nightWindow(
    Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(timezone).toPlainDate().toString(),
    timezone,
    from,
    to,
  );
  return today.fromMs > atMs
    ? today
    : nightWindow(Temporal.PlainDate.from(today.date).add({ days: 1 }).toString(), timezone, from, to);
}

/** Tells when a night is over: by the calendar in the site's zone, whatever the clocks do in it. */
export function createNightsStage(): Stage<Heard, NightOver> {
  let line: Line | null = null;
  let isArmed = false;

  /** What is added to engine time now. */
  function offsetOf(ctx: Context): number {
    const offset = ctx.get(worldCell, offsetKey)?.value;
    return typeof offset === "number" ? offset : 0;
  }

  function arm(ctx: Context): void {
    if (!line || ctx.nowMs < leastMs) return;
    isArmed = true;
    ctx.wakeAt(ends, nightOrNext(line, ctx.nowMs + offsetOf(ctx)).toMs - offsetOf(ctx));
  }

  return {
    name: "nights",
    version: 1,
    owns: [],
    reads: [worldCell],
    hears: {
      world: (_entry, ctx) => arm(ctx),
      pack(_pack, ctx) {
        if (!isArmed) arm(ctx);
      },
    },
    useLine(next, _was, ctx) {
      line = next;
      arm(ctx);
    },
    wake(_key, ctx) {
      if (!line) return;
      const atMs = ctx.nowMs + offsetOf(ctx);
      const { timezone, night } = line;
      // The one that ends now is the one in which the moment before lies.
      const over = nightAt(Math.floor(atMs) - 1, timezone, night.from, night.to);
      if (over) ctx.tell({ kind: "night", date: over.date, timezone, fromMs: over.fromMs, toMs: over.toMs });
      arm(ctx);
    },
    dirty: () => [],
    load(_rows, fromVersion, ctx) {
      arm(ctx);
      return fromVersion <= 1;
    },
    seed: (_records, ctx) => arm(ctx),
  };
}
