import type { CompiledPoint, DrumBehind, Meter } from "../compiled-line.ts";
import type { Line, LineStage, Point } from "../line.ts";
import type { FlowGraph } from "./flow-graph.ts";
import { feedingPointsOf } from "./meters.ts";

/** Whether a stage takes ions out: the conductivity behind it tells nothing of the water before it. */
const changesIons = ({ kind }: LineStage): boolean => kind === "resin" || kind === "membrane";

/** The nearest point with a conductivity probe at or against the flow from a point; null beyond resin or a membrane. */
function probeBefore(graph: FlowGraph, point: string): Point | null {
  const here = graph.point(point);
  if (here.conductivity !== null) return here;
  for (const stage of graph.stagesAgainstFlow(point)) {
    if (changesIons(stage)) return null;
    const before = graph.point(stage.from);
    if (before.conductivity !== null) return before;
  }
  return null;
}

/** The unbroken run of resin that ends at a point, nearest first. */
function resinBefore(against: readonly LineStage[]): readonly LineStage[] {
  const end = against.findIndex(({ kind }) => kind !== "resin");
  return end === -1 ? against : against.slice(0, end);
}

function drumsBehind({ drums }: Line, graph: FlowGraph, meters: ReadonlyMap<string, Meter>, id: string) {
  return drums.flatMap((drum): DrumBehind[] => {
    const passed = feedingPointsOf(graph, drum);
    const index = passed.indexOf(id);
    if (index === -1) return [];
    return [{ drum, meters: passed.slice(0, index).flatMap((point) => meters.get(point) ?? []) }];
  });
}

/** Every point with its place in the flow. */
export function compilePoints(
  line: Line,
  graph: FlowGraph,
  meters: ReadonlyMap<string, Meter>,
): CompiledPoint[] {
  return line.points.map((point, index) => {
    const { id } = point;
    const against = graph.stagesAgainstFlow(id);
    const behind = graph.pointsBehind(id);
    const resin = resinBefore(against);
    const feed = resin.at(-1)?.from;
    const nearness = [id, ...against.map(({ from }) => from), ...behind.slice(1)];
    return {
      index,
      id,
      point,
      stageInto: against[0] ?? null,
      stagesInto: graph.stagesInto(id),
      stagesBefore: against.toReversed(),
      resinBefore: resin,
      resinFeed: feed === undefined ? null : graph.point(feed),
      resinFeedProbe: feed === undefined ? null : probeBefore(graph, feed),
      probeBefore: probeBefore(graph, id),
      meter: meters.get(id) ?? null,
      pointsBehind: behind.map((at) => graph.point(at)),
      pointsByNearness: nearness.map((at) => graph.point(at)),
      drumsBehind: drumsBehind(line, graph, meters, id),
    };
  });
}
