import type { DrumView, LineView, PointView, StageView } from "@drumlin/gateway/contract";

/** One column of the drawing: a point, what the water passes through, or the tee of another drum at the point before. */
export type Column =
  | { readonly kind: "point"; readonly point: PointView; readonly weight: number }
  | { readonly kind: "stage"; readonly stage: StageView; readonly weight: number }
  | { readonly kind: "branch"; readonly drum: DrumView; readonly weight: number };

/** A drum and the columns under which it hangs: from its feeding point's, up to (not with) `to`; the first column is 0. */
interface HungDrum {
  readonly drum: DrumView;
  readonly from: number;
  readonly to: number;
}

/** The line as it is drawn: pipes from left to right, and the drums under them. */
export interface Picture {
  readonly pipes: readonly (readonly Column[])[];
  /** Under the one pipe, in the order of their points; null where the drums stand in a row of their own. */
  readonly hung: readonly HungDrum[] | null;
}

const maxColumns = 10;
const maxHungDrums = 3;
/** Parts of a tablet's width: beyond, columns are too narrow for their words. */
const maxParts = 15;
/** From so many parts on, columns are narrow: figures are set smaller, and names of filters stand under their bowls. */
const tightParts = 11;
const stageWeight = 0.85;
const pointWeight = 1.25;
const lastWeight = 2.6;
/** So many drums leave each little room. */
export const manyDrums = 3;
/** What a drum's vessel and words need; on a tablet the words of many stand under the drawing. */
const needs = {
  wide: { mirrored: 3, other: 3 },
  tablet: { mirrored: 2.1, other: 3.7 },
} as const;
const needsOfMany = {
  wide: { mirrored: 2.1, other: 4 },
  tablet: { mirrored: 2.7, other: 2.9 },
} as const;

/** Nothing is measured, judged or drawn off at such a point: it only joins two stages. */
function isJoint(line: LineView, point: PointView, stages: readonly StageView[]): boolean {
  return (
    !point.hasProbe &&
    point.limit === null &&
    stages.length === 1 &&
    stages[0]?.kind !== "resin" &&
    line.stages.some(({ to }) => to === point.id) &&
    !line.drums.some(({ fedBy }) => fedBy === point.id)
  );
}

/** Columns from a point on; stages that branch off are put into `waiting`, to begin pipes of their own. */
function pipeFrom(line: LineView, start: PointView, first: StageView | null, waiting: StageView[]): Column[] {
  const columns: Column[] = [];
  const passed = new Set<string>();
  let point: PointView | undefined = start;
  let stage: StageView | null = first;
  while (point && !passed.has(point.id)) {
    passed.add(point.id);
    const here: PointView = point;
    const onward: StageView[] = line.stages.filter(({ from }) => from === here.id);
    if (stage === null) {
      if (!isJoint(line, here, onward)) columns.push({ kind: "point", point: here, weight: pointWeight });
      waiting.push(...onward.slice(1));
      stage = onward[0] ?? null;
    }
    if (!stage) break;
    const next: StageView = stage;
    columns.push({ kind: "stage", stage: next, weight: stageWeight });
    point = line.points.find(({ id }) => id === next.to);
    stage = null;
  }
  return columns;
}

/** The pipe with a tee of its own for each drum after the first of its point. */
function withBranches(pipe: readonly Column[], drums: readonly DrumView[]): Column[] {
  return pipe.flatMap((column): Column[] => {
    if (column.kind !== "point") return [column];
    const others = drums.filter(({ fedBy }) => fedBy === column.point.id).slice(1);
    return [column, ...others.map((drum) => ({ kind: "branch" as const, drum, weight: pointWeight }))];
  });
}

/** The first drum of a point, in the order of the line: it hangs under the point itself. */
export function firstDrumOf(line: LineView, point: string): DrumView | null {
  return line.drums.find(({ fedBy }) => fedBy === point) ?? null;
}

/** Drums under one pipe; null when one of them is fed from elsewhere. */
function hang(pipe: readonly Column[], line: LineView): HungDrum[] | null {
  const hung = line.drums
    .map((drum) => ({
      drum,
      from: pipe.findIndex((column) =>
        column.kind === "branch"
          ? column.drum.id === drum.id
          : column.kind === "point" && firstDrumOf(line, column.point.id)?.id === drum.id,
      ),
    }))
    .sort((a, b) => a.from - b.from);
  if (hung.some(({ from }) => from < 0)) return null;
  return hung.map(({ drum, from }, at) => ({ drum, from, to: hung[at + 1]?.from ?? pipe.length }));
}

/** Whether the drums under a pipe are so many that their words need other places. */
export const areMany = (hung: readonly HungDrum[]) => hung.length >= manyDrums;

/** Whether the words of the first drum stand left of its vessel: on a tablet, and on a desk where there are many. */
export function isMirrored(hung: readonly HungDrum[], at: number): boolean {
  return at === 0 && hung.length > 1 && (hung[0]?.from ?? 0) >= 2;
}

/** Widths of the columns, as parts of the whole: those over a drum share what it needs more than they have. */
export function widths(pipe: readonly Column[], hung: readonly HungDrum[], on: keyof typeof needs): number[] {
  const { mirrored, other } = (areMany(hung) ? needsOfMany : needs)[on];
  return pipe.map(({ weight }, at) => {
    const drum = hung.findIndex(({ from, to }) => at >= from && at < to);
    const over = hung[drum];
    if (!over) return weight;
    const under = pipe.slice(over.from, over.to);
    const own = under.reduce((sum, column) => sum + column.weight, 0);
    const need = isMirrored(hung, drum) ? mirrored : other;
    return weight + Math.max(0, need - own) / under.length;
  });
}

/** Widths of the columns of a pipe without drums: at its end stand limit and curve. */
export const apartWidths = (pipe: readonly Column[]): number[] =>
  pipe.map(({ weight }, at) => (at === pipe.length - 1 ? Math.max(lastWeight, weight) : weight));

/** How a line is drawn: one pipe with its drums under it where it fits, else pipes and a row of drums. */
export function pictureOf(line: LineView): Picture {
  const sources = line.points.filter(({ id }) => !line.stages.some(({ to }) => to === id));
  const waiting: StageView[] = [];
  const pipes = sources.map((point) => pipeFrom(line, point, null, waiting));
  // Branches may branch again while they are drawn.
  for (let at = 0; at < waiting.length && at < line.stages.length; at += 1) {
    const stage = waiting[at] as StageView;
    const from = line.points.find(({ id }) => id === stage.from);
    if (from) pipes.push(pipeFrom(line, from, stage, waiting));
  }
  const only = withBranches(pipes[0] ?? [], line.drums);
  const hung =
    pipes.length === 1 && only.length <= maxColumns && line.drums.length <= maxHungDrums
      ? hang(only, line)
      : null;
  return hung && partsOf(only, hung) <= maxParts ? { pipes: [only], hung } : { pipes, hung: null };
}

const partsOf = (pipe: readonly Column[], hung: readonly HungDrum[]) =>
  widths(pipe, hung, "tablet").reduce((sum, width) => sum + width, 0);

/** Whether the columns of a pipe are narrow on a tablet. */
export const areTight = (pipe: readonly Column[], hung: readonly HungDrum[]) =>
  partsOf(pipe, hung) > tightParts;

/** Whether water moves in a column of a pipe now: something after it fills, or runs. */
export function runsAt(line: LineView, pipe: readonly Column[], at: number): boolean {
  const onward = pipe.slice(at);
  const ids = new Set(
    onward.flatMap((one) =>
      one.kind === "branch" ? [] : one.kind === "point" ? [one.point.id] : [one.stage.to],
    ),
  );
  const beside = new Set(onward.flatMap((one) => (one.kind === "branch" ? [one.drum.id] : [])));
  return (
    line.drums.some(({ id, fedBy, filling }) => filling === true && (ids.has(fedBy) || beside.has(id))) ||
    line.points.some(({ id, run }) => run.flowing === true && ids.has(id))
  );
}
