import { type CounterKind, counterName } from "@drumlin/firmware-protocol";
import { compileLine, inOwnUnit, isClosed, type Line, type Slot } from "../../line/index.ts";
import type { Stage, StageContext } from "../../path/index.ts";
import { isStartChannel, type Reading, startChannel } from "../../readings/index.ts";
import { type CounterTrace, firstTrace, provedBy, takeCount } from "./counter-trace.ts";
import { countedCell, edgesCell, unchangedCell } from "./unchanged.ts";

/** Litres go by a total only where its steps are no greater (common practice, no source). */
const exactStepMl = 100;

/** A total beyond it can't tell a mL any more (2^53 mL). */
const greatestTotalM3 = 9e9;

/** A channel beside which a node may count. */
interface Beside {
  readonly slot: Slot;
  readonly kind: CounterKind;
}

/** The last reading of a name, of whatever time. */
interface Said {
  readonly value: number;
  readonly tMs: number;
}

function kindBeside({ use }: Slot): CounterKind | null {
  return use.signal === "contact" || use.signal === "loop"
    ? "changes"
    : use.signal === "flow"
      ? "total"
      : null;
}

/** Whether one more can still be told: a number too great for that stands while things go on, and would prove them still. */
const canCount = (kind: CounterKind, value: number): boolean =>
  kind === "changes"
    ? value >= 0 && Number.isSafeInteger(value) && value < Number.MAX_SAFE_INTEGER
    : value >= 0 && value < greatestTotalM3;

/** 0 or 1 of a contact, L/min of a meter; null where the reading can't be read. */
function ownValue({ use: { signal, scale } }: Slot, value: number, unit: string | null): number | null {
  if (signal === "flow") {
    const own = inOwnUnit(signal, value, unit);
    return own === null ? null : own * scale;
  }
  const closed = isClosed(signal, value);
  return closed === null ? null : Number(closed);
}

/** Channels that may have a counter, by its name; what the line uses itself is none. */
function countersOf(line: Line): ReadonlyMap<string, Beside> {
  const { slots, slotOf } = compileLine(line);
  const counters = new Map<string, Beside>();
  for (const slot of slots) {
    const kind = kindBeside(slot);
    const name = kind && counterName(slot.channel, kind);
    if (kind && name !== null && !slotOf.has(name)) counters.set(name, { slot, kind });
  }
  return counters;
}

interface Counted {
  /** The count before this one. */
  readonly before: { readonly start: number; readonly value: number; readonly atMs: number } | undefined;
  readonly taken: Parameters<typeof takeCount>[1];
}

/** Puts onto the board what a count shows of its channel. */
function tell(
  { slot, kind }: Beside,
  trace: CounterTrace,
  { before, taken }: Counted,
  ctx: StageContext,
): void {
  const { start, value, tMs } = taken;
  ctx.put(unchangedCell, slot.channel, provedBy(trace, slot.use.scale) ?? undefined);
  if (kind === "changes") {
    const count = before?.start === start ? value - before.value : 0;
    if (before && count > 0 && tMs > before.atMs && trace.isCounting)
      ctx.put(edgesCell, slot.channel, { sinceMs: before.atMs, atMs: tMs, count });
    return;
  }
  const { isCounting, hasWrapped, stepMl } = trace;
  ctx.put(countedCell, slot.channel, {
    start,
    litres: value * 1000 * slot.use.scale,
    tMs,
    said: taken.said,
    isExact: isCounting && !hasWrapped && stepMl > 0 && stepMl * slot.use.scale <= exactStepMl,
  });
}

/** Nodes' own counters: what they prove of a time in which nothing was heard. */
export function createCountersStage(): Stage<Reading, never> {
  let counters: ReadonlyMap<string, Beside> = new Map();
  /** Channels with a counter, and the starts of nodes: only what is of the same time is used. */
  let watched: ReadonlyMap<string, Slot> = new Map();
  const said = new Map<string, Said>();
  let traces = new Map<string, CounterTrace>();
  const changed = new Set<string>();

  const sameTime = (name: string, tMs: number): number | null => {
    const found = said.get(name);
    return found?.tMs === tMs ? found.value : null;
  };

  function drop(name: string, { slot }: Beside, ctx: StageContext): void {
    if (!traces.delete(name)) return;
    changed.add(name);
    ctx.put(unchangedCell, slot.channel, undefined);
    ctx.put(countedCell, slot.channel, undefined);
    ctx.put(edgesCell, slot.channel, undefined);
  }

  function take(name: string, { slot, kind }: Beside, reading: Reading, ctx: StageContext): void {
    const { value, tMs, node, unit } = reading;
    const start = sameTime(startChannel(node), tMs);
    const isUsable = kind === "changes" ? unit === null || unit === "count" : unit === "m3";
    if (start === null || !isUsable || !canCount(kind, value)) return;
    const taken = { start, value, tMs, said: sameTime(slot.channel, tMs) };
    let trace = traces.get(name);
    const before = trace && { start: trace.start, value: trace.value, atMs: trace.atMs };
    if (trace) takeCount(trace, taken);
    else {
      trace = firstTrace(kind, taken);
      traces.set(name, trace);
    }
    changed.add(name);
    tell({ slot, kind }, trace, { before, taken }, ctx);
  }

  return {
    name: "counters",
    version: 1,
    owns: [unchangedCell, countedCell, edgesCell],
    reads: [],
    hears: {
      reading(reading, ctx) {
        const { channel, value, tMs, flag, unit, node } = reading;
        if (flag === 3) return; // A node that has just started says anything.
        const beside = counters.get(channel);
        if (beside) take(channel, beside, reading, ctx);
        else if (isStartChannel(channel, node)) said.set(channel, { value, tMs });
        else {
          const slot = watched.get(channel);
          const own = slot && ownValue(slot, value, unit);
          if (own != null) said.set(channel, { value: own, tMs });
        }
      },
    },
    useLine(line, _was, ctx) {
      const next = countersOf(line);
      for (const [name, beside] of counters) if (!next.has(name)) drop(name, beside, ctx);
      counters = next;
      watched = new Map([...next.values()].map(({ slot }) => [slot.channel, slot]));
      for (const name of said.keys()) if (!name.endsWith("/.start") && !watched.has(name)) said.delete(name);
    },
    *dirty() {
      for (const name of changed) yield [name, traces.get(name)] as const;
      changed.clear();
    },
    load(rows) {
      traces = structuredClone(new Map(rows)) as Map<string, CounterTrace>;
      return true;
    },
  };
}
