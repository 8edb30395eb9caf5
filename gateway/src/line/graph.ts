import type { Drum, Line, LineStage, Point } from "./line.ts";

/** A stage's way, enough to walk. */
interface Way {
  readonly id: string;
  readonly from: string;
  readonly to: string;
}

/** Stages between the supply and a point, in the order of flow; null when they lead in a circle. */
function stagesBefore<Stage extends Way>(stages: readonly Stage[], point: string): readonly Stage[] | null {
  const before: Stage[] = [];
  let at = point;
  for (;;) {
    const stage = stages.find((candidate) => candidate.to === at);
    if (!stage) return before;
    if (before.includes(stage)) return null;
    before.unshift(stage);
    at = stage.from;
  }
}

/** The stage that ends at a point; null at the supply. */
export function stageInto(line: Line, point: string): LineStage | null {
  return line.stages.find((stage) => stage.to === point) ?? null;
}

/** The point that feeds the run of resin stages before a point: the water that this resin gets. */
export function feedOfResin(line: Line, point: string): Point | null {
  let at = point;
  let stage = stageInto(line, at);
  if (stage?.kind !== "resin") return null;
  while (stage?.kind === "resin") {
    at = stage.from;
    stage = stageInto(line, at);
  }
  return line.points.find((candidate) => candidate.id === at) ?? null;
}

/** The nearest point with a conductivity probe at or before `point`, against the flow; stages that change ions stop the walk. */
export function nearestProbeBefore(line: Line, point: string): Point | null {
  let at: string | null = point;
  for (let step = 0; at !== null && step <= line.stages.length; step += 1) {
    const found = line.points.find((candidate) => candidate.id === at);
    if (found?.conductivity) return found;
    const stage: LineStage | null = stageInto(line, at);
    if (!stage || stage.kind === "resin" || stage.kind === "membrane") return null;
    at = stage.from;
  }
  return null;
}

/** Points reached from `point` with the flow, itself included. */
export function pointsBehind(line: Line, point: string): readonly string[] {
  const reached = [point];
  for (const at of reached)
    for (const stage of line.stages)
      if (stage.from === at && !reached.includes(stage.to)) reached.push(stage.to);
  return reached;
}

/** Drums that water from `point` ends in. */
export function drumsBehind(line: Line, point: string): readonly Drum[] {
  const reached = pointsBehind(line, point);
  return line.drums.filter((drum) => reached.includes(drum.fedBy));
}

/** Points in the order in which they are nearest along the flow: against it first, then with it. */
export function pointsByNearness(line: Line, point: string): readonly string[] {
  const before = (stagesBefore(line.stages, point) ?? []).map((stage) => stage.from).reverse();
  const behind = pointsBehind(line, point).slice(1);
  return [point, ...before, ...behind];
}
