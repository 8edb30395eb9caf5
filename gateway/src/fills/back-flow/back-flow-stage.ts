import type { Act } from "../../acts/index.ts";
import { type CurrentMeasurement, latestCell, type Measurement } from "../../measurements/index.ts";
import type { PathEvent, Stage, StageContext } from "../../path/index.ts";
import { backFlowCell, runCell } from "../cells.ts";
import {
  type BackFlow,
  type BackFlowPlace,
  backFlowLimit25,
  backFlowMs,
  backFlowPlaces,
  maxSupplyAgeMs,
} from "./back-flow.ts";

type Context = StageContext<BackFlow>;
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };

/** What stands behind a point, as far as it was judged: for how long it has been too much, up to the last reading. */
interface Stood {
  readonly judgedMs: number;
  readonly lastMs: number;
}

interface BackFlows {
  places: ReadonlyMap<string, BackFlowPlace>;
  stood: Map<string, Stood>;
  readonly changed: Set<string>;
}

const alarmOf = (point: string) => `back-flow:${point}`;
const isUsable = ({ value, flag }: Measurement) => value !== null && flag !== 4 && flag !== 9;

function put(all: BackFlows, point: string, stood: Stood | null): void {
  if (stood) all.stood.set(point, stood);
  else if (!all.stood.delete(point)) return;
  all.changed.add(point);
}

function supplyOf({ supply }: BackFlowPlace, ctx: Context): number | null {
  const latest = ctx.get(latestCell, `point/${supply}/conductivity25`)?.measurement;
  if (!latest || !isUsable(latest) || ctx.nowMs - latest.tMs > maxSupplyAgeMs) return null;
  return latest.value;
}

function take(all: BackFlows, { measurement }: CurrentMeasurement, ctx: Context): void {
  const { subject, quantity, value, tMs } = measurement;
  if (subject.kind !== "point" || quantity !== "conductivity25" || !isUsable(measurement)) return;
  const place = all.places.get(subject.id);
  if (!place || ctx.get(runCell, subject.id)?.flowing !== false) return;
  const supply25 = supplyOf(place, ctx);
  if (supply25 === null) return;
  if ((value as number) <= backFlowLimit25(place.least25, supply25)) {
    put(all, subject.id, null);
    return;
  }
  // From one reading to the next; the time before the first one is not counted.
  const before = all.stood.get(subject.id);
  const judgedMs = before ? before.judgedMs + Math.min(60_000, Math.max(0, tMs - before.lastMs)) : 0;
  put(all, subject.id, { judgedMs, lastMs: tMs });
  if (judgedMs < backFlowMs || ctx.get(backFlowCell, subject.id)) return;
  const found: BackFlow = { kind: "back-flow", point: subject.id, sinceMs: tMs, value25: value as number };
  ctx.put(backFlowCell, subject.id, found);
  ctx.tell(found);
}

/** A reset ends it, and so does a new medium in what it went into. */
function act(all: BackFlows, given: Act, ctx: Context): void {
  for (const { point, stages } of all.places.values()) {
    const isOver =
      (given.type === "reset" && given.key === alarmOf(point)) ||
      (given.type === "medium-change" && stages.includes(given.stage));
    if (!isOver) continue;
    put(all, point, null);
    ctx.put(backFlowCell, point, undefined);
  }
}

/** Whether water came back from a drum into what lies before it: a fact that holds drums, whatever alarms say. */
export function createBackFlowStage(): Stage<CurrentMeasurement | Acted, BackFlow> {
  const all: BackFlows = { places: new Map(), stood: new Map(), changed: new Set() };
  return {
    name: "back-flow",
    version: 1,
    owns: [backFlowCell],
    reads: [latestCell, runCell],
    hears: {
      current: (event, ctx) => take(all, event, ctx),
      act: ({ act: given }, ctx) => act(all, given, ctx),
    },
    useLine(line, _was, ctx) {
      all.places = backFlowPlaces(line);
      for (const point of [...all.stood.keys()]) if (!all.places.has(point)) put(all, point, null);
      for (const [point] of [...ctx.entries(backFlowCell)])
        if (!all.places.has(point)) ctx.put(backFlowCell, point, undefined);
    },
    *dirty() {
      for (const point of all.changed) yield [point, all.stood.get(point)] as const;
      all.changed.clear();
    },
    load(rows) {
      all.stood = structuredClone(new Map(rows)) as Map<string, Stood>;
      return true;
    },
  };
}
