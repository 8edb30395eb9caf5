import type { LineStage } from "../line.ts";
import type { LineFile } from "../schema.ts";
import { type Draft, positiveOf, quantityOf, titleOf, useChannel } from "./draft.ts";

// Typical household vessels, not the keeper's own: a 10 inch housing holds about 1.2 L (common practice, no source).
const typicalVesselL = { sediment: 1.2, carbon: 1.2, membrane: 0.5, resin: 2.5, other: 1 } as const;
const typicalPipeL = 0.2;

type StageFile = LineFile["stages"][string];

function volumesOf(draft: Draft, stage: StageFile, path: readonly string[]) {
  const vessel =
    stage.vessel === undefined ? null : positiveOf(draft, stage.vessel, "volume", [...path, "vessel"]);
  const media =
    stage.media === undefined ? null : positiveOf(draft, stage.media, "volume", [...path, "media"]);
  const typical = typicalVesselL[stage.kind];
  const vessels = stage.vessels ?? 1;
  return {
    vesselVolumeL: (vessel ?? media ?? typical) * vessels,
    mediaVolumeL: (media ?? vessel ?? typical) * vessels,
    pipeVolumeL:
      stage.pipe === undefined ? typicalPipeL : quantityOf(draft, stage.pipe, "volume", [...path, "pipe"]),
    typical: vessel === null && media === null,
  };
}

function stageOf(draft: Draft, id: string, stage: StageFile): LineStage {
  const path = ["stages", id];
  if (stage.from === stage.to)
    draft.complain(
      "stage-without-way",
      path,
      `${id} leads from ${stage.from} to itself.`,
      "Name two points.",
    );
  const volumes = volumesOf(draft, stage, path);
  const meter = (given: StageFile["flow"], key: string, kind: "flow" | "waste", of: string) =>
    given === undefined
      ? null
      : useChannel(draft, { given, signal: "flow", subject: { kind, id: of }, path: [...path, key] });
  return {
    id,
    title: stage.title ?? titleOf(id),
    kind: stage.kind,
    from: stage.from,
    to: stage.to,
    // A stage's meter is where its water comes out: it belongs to the point behind the stage.
    flow: meter(stage.flow, "flow", "flow", stage.to),
    waste: meter(stage.waste, "waste", "waste", id),
    arrangement: stage.arrangement ?? "series",
    ...volumes,
  };
}

/** The stages of the file. */
export const stagesOf = (draft: Draft): LineStage[] =>
  Object.entries(draft.file.stages).map(([id, stage]) => stageOf(draft, id, stage));
