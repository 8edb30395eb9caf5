import { defineCell } from "../path/index.ts";
import type { Inflow } from "./drum-inflow.ts";
import type { DrumWater, Fill } from "./fill.ts";
import type { Learned } from "./learned.ts";
import type { RunState } from "./run.ts";

/** Whether water runs past a point, by the point's id. */
export const runCell = defineCell<RunState>("run");
/** What is known of a drum's inflow, by the drum's id. */
export const inflowCell = defineCell<Inflow>("inflow");
/** A drum's running fill, or its last one, by the drum's id. */
export const fillCell = defineCell<Fill>("fill");
/** May a drum's water be used, by the drum's id. */
export const waterCell = defineCell<DrumWater>("water");
/** What a drum's past fills taught, by the drum's id. */
export const learnedCell = defineCell<Learned>("learned");
