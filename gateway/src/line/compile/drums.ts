import type { CompiledDrum, CompiledFloat, CompiledStage, Meter } from "../compiled-line.ts";
import type { Drum, Line, Point } from "../line.ts";
import { floatSubject } from "../subject.ts";
import type { FlowGraph } from "./flow-graph.ts";
import { feedingPointsOf } from "./meters.ts";

/** The point whose probe sees what comes into a drum: sediment and carbon filters leave the conductivity as it is. */
function seenAt(graph: FlowGraph, { fedBy }: Drum): Point {
  const fed = graph.point(fedBy);
  if (fed.conductivity !== null) return fed;
  for (const { kind, from } of graph.stagesAgainstFlow(fedBy)) {
    if (kind !== "sediment" && kind !== "carbon") break;
    const before = graph.point(from);
    if (before.conductivity !== null) return before;
  }
  return fed;
}

/** Every drum with what it is fed by. */
export function compileDrums(
  { drums }: Line,
  graph: FlowGraph,
  meters: ReadonlyMap<string, Meter>,
): CompiledDrum[] {
  return drums.map((drum, index) => {
    const passed = feedingPointsOf(graph, drum);
    const passedMeters = passed.flatMap((point) => meters.get(point) ?? []);
    return {
      index,
      id: drum.id,
      drum,
      feedingPoints: passed.map((point) => graph.point(point)),
      feedingStages: graph.stagesAgainstFlow(drum.fedBy),
      meters: passedMeters.map((meter) => ({
        meter,
        sharedWith: meter.drums.filter((id) => id !== drum.id),
      })),
      seenAt: seenAt(graph, drum),
      fedTogether: drums.filter(({ id, fedBy }) => id !== drum.id && fedBy === drum.fedBy),
      floats: new Map(drum.floats.map((float) => [float.role, float])),
    };
  });
}

/** Every float with its drum. */
export function compileFloats({ drums }: Line): CompiledFloat[] {
  return drums.flatMap((drum) =>
    drum.floats.map((float) => ({ id: float.id, float, drum, subject: floatSubject(drum.id, float.role) })),
  );
}

/** Every stage with what ends behind it. */
export function compileStages({ stages, drums }: Line, graph: FlowGraph): CompiledStage[] {
  return stages.map((stage, index) => {
    const reached = new Set(graph.pointsBehind(stage.to));
    return {
      index,
      id: stage.id,
      stage,
      from: graph.point(stage.from),
      to: graph.point(stage.to),
      drumsBehind: drums.filter(({ fedBy }) => reached.has(fedBy)),
    };
  });
}
