import { settingsOf } from "../limits.ts";
import type { ChannelName, Point } from "../line.ts";
import { type LineFile, type PointChannel, pointChannels } from "../schema.ts";
import { type Draft, positiveOf, stagesBefore, titleOf, useChannel } from "./draft.ts";

/** Limit after resin, uS/cm at 25 °C: ASTM D1193 type IV and ISO 3696 grade 3, both 5.0. */
const limitAfterResin = 5;

const changesIons = ({ kind }: LineFile["stages"][string]) => kind === "resin" || kind === "membrane";

type PointFile = LineFile["points"][string];

function limitOf(draft: Draft, id: string, given: PointFile): number | null {
  const limit =
    given.limit === undefined
      ? null
      : positiveOf(draft, given.limit, "conductivity", ["points", id, "limit"]);
  const into = Object.values(draft.file.stages).filter(({ to }) => to === id);
  const afterResin = into.some(({ kind }) => kind === "resin");
  const afterMembrane = (stagesBefore(draft, id) ?? []).findLast(changesIons)?.kind === "membrane";
  // What stands under `limits` goes before what the point says.
  const condition = afterResin ? "resin-breakthrough" : afterMembrane ? "membrane-passing" : null;
  const set = condition === null ? null : settingsOf(draft, condition, id).limit;
  if (typeof set === "number") return set;
  return limit ?? (afterResin ? limitAfterResin : null);
}

function pointOf(draft: Draft, id: string, given: PointFile): Point {
  const before = stagesBefore(draft, id);
  if (before === null)
    draft.complain(
      "stages-in-a-circle",
      ["stages"],
      `The stages before ${id} lead back to it.`,
      "Water runs one way: check from and to.",
    );
  const stages = before ?? [];
  const isPurified = stages.some(changesIons);
  const channels = Object.entries(pointChannels).map(([key, { signal, subject }]) => {
    const named = given[key as PointChannel];
    if (named === undefined) return [key, null];
    return [
      key,
      useChannel(draft, {
        given: named,
        signal,
        subject: { kind: subject, id },
        path: ["points", id, key],
        compensation: isPurified ? "pure" : "natural",
      }),
    ];
  });
  return {
    id,
    title: given.title ?? titleOf(id),
    ...(Object.fromEntries(channels) as Record<PointChannel, ChannelName | null>),
    after: stages.map((stage) => stage.id),
    limit25UsPerCm: limitOf(draft, id, given),
  };
}

/** The points of the file, and those that only its stages name. */
export function pointsOf(draft: Draft): Point[] {
  const declared = new Map(Object.entries(draft.file.points));
  return draft.pointIds.map((id) => pointOf(draft, id, declared.get(id) ?? {}));
}

/** The points with the flows that stand by themselves in the file. */
export function withFlows(draft: Draft, points: readonly Point[]): Point[] {
  const flows = new Map<string, ChannelName>();
  for (const [id, given] of Object.entries(draft.file.flows)) {
    const path = ["flows", id];
    if (draft.pointIds.includes(id))
      flows.set(id, useChannel(draft, { given, signal: "flow", subject: { kind: "flow", id }, path }));
    else
      draft.complain(
        "point-unknown",
        path,
        `There is no point ${id}.`,
        `Points are ${draft.pointIds.join(", ")}.`,
      );
  }
  return points.map((point) => ({ ...point, flow: flows.get(point.id) ?? point.flow }));
}
