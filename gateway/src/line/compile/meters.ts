import type { Meter } from "../compiled-line.ts";
import type { Drum, Line } from "../line.ts";
import type { FlowGraph } from "./flow-graph.ts";

/** The points that a drum's water passes, nearest first. */
export function feedingPointsOf(graph: FlowGraph, { fedBy }: Drum): readonly string[] {
  return [fedBy, ...graph.stagesAgainstFlow(fedBy).map(({ from }) => from)];
}

/** The meter of each point that has one: its own channel, and those of stages that end there. */
export function metersOf({ points, stages, drums }: Line, graph: FlowGraph): ReadonlyMap<string, Meter> {
  const fed = drums.map((drum) => ({ id: drum.id, passes: new Set(feedingPointsOf(graph, drum)) }));
  return new Map(
    points.flatMap(({ id, flow }) => {
      const ofStages = stages.flatMap((stage) =>
        stage.to === id && stage.flow !== null ? [stage.flow] : [],
      );
      const channels = flow === null ? ofStages : [flow, ...ofStages];
      if (channels.length === 0) return [];
      const drumIds = fed.flatMap((drum) => (drum.passes.has(id) ? [drum.id] : []));
      return [[id, { point: id, subject: { kind: "flow", id }, channels, drums: drumIds }] as const];
    }),
  );
}
