import { compileDrums, compileFloats, compileStages } from "./compile/drums.ts";
import { FlowGraph } from "./compile/flow-graph.ts";
import { metersOf } from "./compile/meters.ts";
import { compilePoints } from "./compile/points.ts";
import { compileSlots } from "./compile/slots.ts";
import type { CompiledLine, Slot } from "./compiled-line.ts";
import { settingsOf } from "./limits.ts";
import type { Line } from "./line.ts";
import { idsByKind, type ThingKind } from "./things.ts";

const byId = <Thing extends { readonly id: string }>(things: readonly Thing[]): ReadonlyMap<string, Thing> =>
  new Map(things.map((thing) => [thing.id, thing]));

function byNode(slots: readonly Slot[]): ReadonlyMap<string, readonly Slot[]> {
  const nodes = new Map<string, Slot[]>();
  for (const slot of slots) {
    const of = nodes.get(slot.node);
    if (of) of.push(slot);
    else nodes.set(slot.node, [slot]);
  }
  return nodes;
}

function compile(line: Line): CompiledLine {
  const graph = new FlowGraph(line);
  const meters = metersOf(line, graph);
  const points = byId(compilePoints(line, graph, meters));
  const slots = compileSlots(line, points);
  const series = [...new Set(slots.flatMap((slot) => slot.series))];
  const floats = byId(compileFloats(line));
  const ids = idsByKind(line);
  const has = (kind: ThingKind, id: string) => ids.get(kind)?.has(id) === true;
  return {
    line,
    slots,
    slotOf: new Map(slots.map((slot) => [slot.channel, slot])),
    slotsOfNode: byNode(slots),
    series,
    seriesNamed: new Map(series.map((one) => [one.name, one])),
    points,
    stages: byId(compileStages(line, graph)),
    drums: byId(compileDrums(line, graph, meters)),
    floats,
    idsOf: (kind) => [...(ids.get(kind) ?? [])],
    has,
    hasPoint: (id) => has("point", id),
    hasStage: (id) => has("stage", id),
    hasDrum: (id) => has("drum", id),
    hasFloat: (id) => has("float", id),
    hasChannel: (channel) => has("channel", channel),
    hasNode: (node) => has("node", node),
    settingsOf: (condition, subject) => settingsOf(line, condition, subject),
  };
}

const compiled = new WeakMap<Line, CompiledLine>();

/** The line as the stages use it, made once for each version: whoever asks with the same line gets the same object. */
export function compileLine(line: Line): CompiledLine {
  const before = compiled.get(line);
  if (before) return before;
  const made = compile(line);
  compiled.set(line, made);
  return made;
}
