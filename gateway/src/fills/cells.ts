import { defineCell } from "../path/index.ts";
import type { BackFlow } from "./back-flow/back-flow.ts";
import type { Batch } from "./batch/batch.ts";
import type { Chlorine } from "./chlorine/chlorine.ts";
import type { DrumWitnesses, MeterSaid } from "./drum-witnesses.ts";
import type { DrumWater, Fill } from "./fill.ts";
import type { FloatNow } from "./floats/float-now.ts";
import type { Guard } from "./guard/guard.ts";
import type { Learned } from "./learned.ts";
import type { ProbeNow } from "./probes/probe-now.ts";
import type { Inflow } from "./record/best-witness.ts";
import type { Feed } from "./record/feeds.ts";
import type { RunState } from "./run.ts";

/** What every witness of a drum's inflow says, by the drum's id. */
export const witnessCell = defineCell<DrumWitnesses>("witness");
/** What a meter says, by its key: for the points that it is at. */
export const meterCell = defineCell<MeterSaid>("meter");
/** Whether water runs past a point, by the point's id. */
export const runCell = defineCell<RunState>("run");
/** What is known of a drum's inflow, by the drum's id. */
export const inflowCell = defineCell<Inflow>("inflow");
/** A drum's running fill, or its last one, by the drum's id. */
export const fillCell = defineCell<Fill>("fill");
/** What speaks against a drum's stop, its witnesses or its supply, by the drum's id. */
export const guardCell = defineCell<Guard>("guard");
/** Where a drum for salt stands between empty and empty, by the drum's id. */
export const batchCell = defineCell<Batch>("batch");
/** Water came back through a point and nobody has reset it, by the point's id. */
export const backFlowCell = defineCell<BackFlow>("back-flow");
/** What tests say of the chlorine in what a drum is filled with, by the drum's id. */
export const chlorineCell = defineCell<Chlorine>("chlorine");
/** May a drum's water be used, by the drum's id. */
export const waterCell = defineCell<DrumWater>("water");
/** What is known of a float beside what it says, by its id. */
export const floatCell = defineCell<FloatNow>("float");
/** How long a probe has stood on one value, by its channel. */
export const probeCell = defineCell<ProbeNow>("probe");
/** What a drum's past fills taught, by the drum's id. */
export const learnedCell = defineCell<Learned>("learned");
/** What was read at a point in the last 24 h, by the point's id: what the media behind it are fed with. */
export const feedCell = defineCell<Feed>("feed");
