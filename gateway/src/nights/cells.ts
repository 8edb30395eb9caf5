import { defineCell } from "../path/index.ts";
import type { Draw } from "./facts.ts";

/** Since when a channel says nothing usable, epoch ms, by its name; `isTold`: it lasts long enough to be a gap. */
export const gapCell = defineCell<{ readonly fromMs: number; readonly isTold: boolean }>("gap");
/** What a drum's level counted as drawn so far, and the draw that may go on, by the drum's id. */
export const drawCell = defineCell<{ readonly drawnL: number; readonly open: Draw | null }>("draw");
/** How a float stands, by its id. */
export const floatStandsCell = defineCell<boolean>("float-stands");
