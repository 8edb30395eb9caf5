import type { Line, LineStage, Point } from "../line.ts";

/** The line's points and stages, each found by the points between which it lies. */
export class FlowGraph {
  readonly points: ReadonlyMap<string, Point>;
  private readonly into = new Map<string, LineStage[]>();
  private readonly outOf = new Map<string, LineStage[]>();

  constructor({ points, stages }: Pick<Line, "points" | "stages">) {
    this.points = new Map(points.map((point) => [point.id, point]));
    for (const stage of stages) {
      put(this.into, stage.to, stage);
      put(this.outOf, stage.from, stage);
    }
  }

  /** A point that a stage or drum names: reading the file made sure that it is there. */
  point(id: string): Point {
    const point = this.points.get(id);
    if (!point) throw new Error(`The line has no point ${id}.`);
    return point;
  }

  stagesInto(point: string): readonly LineStage[] {
    return this.into.get(point) ?? [];
  }

  /** Stages against the flow from a point to the supply: of those that lie side by side, the first. */
  stagesAgainstFlow(point: string): readonly LineStage[] {
    const stages: LineStage[] = [];
    for (let stage = this.stagesInto(point)[0]; stage; stage = this.stagesInto(stage.from)[0])
      stages.push(stage);
    return stages;
  }

  /** Points reached with the flow, the point itself first. */
  pointsBehind(point: string): readonly string[] {
    const reached = new Set([point]);
    for (const at of reached) for (const { to } of this.outOf.get(at) ?? []) reached.add(to);
    return [...reached];
  }
}

function put<Value>(lists: Map<string, Value[]>, key: string, value: Value): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}
