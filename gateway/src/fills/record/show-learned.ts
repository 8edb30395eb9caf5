import type { StageContext } from "../../path/index.ts";
import { learnedCell } from "../cells.ts";
import { changesOf } from "../learned.ts";
import { type Fills, recordOf } from "./fills-state.ts";

/** Puts what a drum's fills taught on the board, where it changed since it was last shown. */
export function showLearned(all: Fills, drum: string, ctx: Pick<StageContext<never>, "put">): void {
  const { learned } = recordOf(all, drum);
  if (all.shownChanges.get(drum) === changesOf(learned)) return;
  all.shownChanges.set(drum, changesOf(learned));
  ctx.put(learnedCell, drum, structuredClone(learned));
}
