import { type Drum, type Line, type LineStage, stageInto } from "../line/index.ts";

/** A drum stops within this time after its float tripped; behind a membrane, which has a tank to empty, later. */
const graceMs = 2 * 60_000;
const membraneGraceMs = 10 * 60_000;

/** How long inflow may go on after a drum's stop float tripped, ms. */
export function graceMsOf(line: Line, drum: Drum): number {
  for (let stage = stageInto(line, drum.fedBy); stage; stage = stageInto(line, stage.from))
    if (stage.kind === "membrane") return membraneGraceMs;
  return graceMs;
}

/** The point whose probe sees what comes into a drum: sediment and carbon filters leave the conductivity as it is. */
export function pointSeenFor(line: Line, drum: Drum): string {
  for (let at: string | null = drum.fedBy; at !== null; ) {
    if (line.points.some(({ id, conductivity }) => id === at && conductivity)) return at;
    const stage: LineStage | null = stageInto(line, at);
    at = stage && (stage.kind === "sediment" || stage.kind === "carbon") ? stage.from : null;
  }
  return drum.fedBy;
}
