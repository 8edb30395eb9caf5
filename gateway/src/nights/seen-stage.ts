import { type DrumWitnesses, witnessCell } from "../fills/index.ts";
import { compileLine, type Line } from "../line/index.ts";
import { type CurrentMeasurement, type Gone, latestCell, type Measurement } from "../measurements/index.ts";
import type { PathEvent, Stage, StageContext } from "../path/index.ts";
import { drawCell, floatStandsCell, gapCell } from "./cells.ts";
import type { Draw, Seen } from "./facts.ts";

type Context = StageContext<Seen>;
type Start = PathEvent & { readonly kind: "start"; readonly receivedAt: number };
type Heard = CurrentMeasurement | Gone | Start;

/** Less than this is no gap. */
const leastGapMs = 60_000;
/** A level that falls again within this time goes on with the same draw. */
const drawGoesOnMs = 10 * 60_000;

const isUsable = ({ value, flag }: Measurement) => value !== null && flag !== 4 && flag !== 9;

function tellGap(subject: string, fromMs: number, toMs: number | null, ctx: Context): void {
  const of = subject === "gateway" ? "gateway" : "channel";
  ctx.tell({ kind: "gap", id: `${subject}@${fromMs}`, of, subject, fromMs, toMs });
}

function openGap(channel: string, fromMs: number, isTold: boolean, ctx: Context): void {
  const known = ctx.get(gapCell, channel);
  if (known?.isTold || (known && !isTold)) return;
  const begin = known?.fromMs ?? fromMs;
  ctx.put(gapCell, channel, { fromMs: begin, isTold });
  if (isTold) tellGap(channel, begin, null, ctx);
}

function closeGap(channel: string, toMs: number, ctx: Context): void {
  const known = ctx.get(gapCell, channel);
  if (!known) return;
  ctx.put(gapCell, channel, undefined);
  if (known.isTold || toMs - known.fromMs >= leastGapMs) tellGap(channel, known.fromMs, toMs, ctx);
}

function followDraw({ drum, level, atMs }: DrumWitnesses, ctx: Context): void {
  if (!level) return;
  const known = ctx.get(drawCell, drum);
  if (!known || level.drawnL < known.drawnL) {
    ctx.put(drawCell, drum, { drawnL: level.drawnL, open: known?.open ?? null });
    return;
  }
  const moreL = level.drawnL - known.drawnL;
  if (moreL <= 0) return;
  const begun: Draw = known.open ?? {
    kind: "draw",
    id: `${drum}@${atMs}`,
    drum,
    fromMs: atMs,
    toMs: atMs,
    litres: 0,
  };
  const open = { ...begun, toMs: atMs, litres: begun.litres + moreL };
  ctx.put(drawCell, drum, { drawnL: level.drawnL, open });
  ctx.wakeAt(drum, ctx.nowMs + drawGoesOnMs);
  ctx.tell(open);
}

interface FloatNow {
  readonly drum: string;
  readonly role: string;
  readonly id: string;
}

function followFloat({ drum, role, id }: FloatNow, wet: boolean, atMs: number, ctx: Context): void {
  const was = ctx.get(floatStandsCell, id);
  if (was === wet) return;
  ctx.put(floatStandsCell, id, wet);
  if (was === undefined) return;
  const litres = ctx.get(witnessCell, drum)?.level?.lastL ?? null;
  ctx.tell({ kind: "float-change", id: `${id}@${atMs}`, drum, role, wet, atMs, litres });
}

/** What the stage knows besides its cells. */
interface SeenNow {
  line: Line | null;
  floats: ReadonlyMap<string, FloatNow>;
  /** Channels of which a gap is open. */
  readonly gaps: Set<string>;
  /** Drums of which something came in this step. */
  readonly touched: Set<string>;
}

function take(all: SeenNow, measurement: Measurement, ctx: Context): void {
  const { channel, subject, tMs } = measurement;
  if (!isUsable(measurement)) {
    all.gaps.add(channel);
    openGap(channel, tMs, false, ctx);
  } else if (all.gaps.size > 0 && all.gaps.delete(channel)) closeGap(channel, tMs, ctx);
  if (subject.kind === "drum") all.touched.add(subject.id);
  else if (subject.kind === "float") {
    const float = all.floats.get(subject.id);
    if (float) all.touched.add(float.drum);
    if (float && measurement.value !== null && float.role !== "stop" && float.role !== "overflow")
      followFloat(float, measurement.value === 1, tMs, ctx);
  }
}

/** What fell silent before is told on, from the board. */
function findGaps(all: SeenNow, ctx: Context): void {
  for (const [, { gone, measurement, lateSinceMs }] of ctx.entries(latestCell))
    if (gone && lateSinceMs === undefined) openGap(measurement.channel, measurement.tMs, true, ctx);
  for (const [channel] of ctx.entries(gapCell)) all.gaps.add(channel);
}

function useLine(all: SeenNow, next: Line, isFirst: boolean, ctx: Context): void {
  all.line = next;
  all.floats = new Map(
    next.drums.flatMap(({ id: drum, floats }) =>
      floats.map(({ id, role }) => [id, { drum, role, id }] as const),
    ),
  );
  if (isFirst) return;
  const known = compileLine(next).slotOf;
  for (const [channel] of [...ctx.entries(gapCell)])
    if (!known.has(channel)) {
      all.gaps.delete(channel);
      closeGap(channel, ctx.nowMs, ctx);
    }
}

/** Draws, and the floats that its witnesses follow. */
function followDrum(all: SeenNow, drum: string, ctx: Context): void {
  const said = ctx.get(witnessCell, drum);
  if (!said) return;
  followDraw(said, ctx);
  for (const role of ["stop", "overflow"] as const) {
    const float = said[role];
    const id = all.line?.drums.find((one) => one.id === drum)?.floats.find((one) => one.role === role)?.id;
    if (float && float.wet !== null && id) followFloat({ drum, role, id }, float.wet, float.sinceMs, ctx);
  }
}

/**
 * Writes down what fills don't: what nobody heard, what was drawn, which float changed over. Stop and overflow floats go
 * by what their witnesses took to be a change, the others by what they say.
 */
export function createSeenStage(): Stage<Heard, Seen> {
  const all: SeenNow = { line: null, floats: new Map(), gaps: new Set(), touched: new Set() };
  return {
    name: "seen",
    version: 1,
    owns: [gapCell, drawCell, floatStandsCell],
    reads: [latestCell, witnessCell],
    hears: {
      current: ({ measurement }, ctx) => take(all, measurement, ctx),
      gone({ channel, lastMs }, ctx) {
        all.gaps.add(channel);
        openGap(channel, lastMs, true, ctx);
      },
      // Heard before time goes on: the engine still stands at what came last before the gateway was away.
      start({ receivedAt }, ctx) {
        if (ctx.nowMs > 0 && receivedAt - ctx.nowMs >= leastGapMs)
          tellGap("gateway", ctx.nowMs, receivedAt, ctx);
      },
    },
    useLine: (next, was, ctx) => useLine(all, next, was === null, ctx),
    wake(drum, ctx) {
      const known = ctx.get(drawCell, drum);
      if (known) ctx.put(drawCell, drum, { ...known, open: null });
    },
    afterStep(ctx) {
      if (all.touched.size === 0) return;
      for (const drum of all.touched) followDrum(all, drum, ctx);
      all.touched.clear();
    },
    // Everything is in the cells.
    dirty: () => [],
    load(_rows, fromVersion, ctx) {
      findGaps(all, ctx);
      for (const [drum, { open }] of ctx.entries(drawCell))
        if (open) ctx.wakeAt(drum, open.toMs + drawGoesOnMs);
      return fromVersion <= 1;
    },
    seed: (_records, ctx) => findGaps(all, ctx),
  };
}
