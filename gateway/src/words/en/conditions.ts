// Written by tests/tooling/conditions-table.ts.
import { en as backFlow } from "../conditions/back-flow.ts";
import { en as brokerLost } from "../conditions/broker-lost.ts";
import { en as brokerRefuses } from "../conditions/broker-refuses.ts";
import { en as clockWrong } from "../conditions/clock-wrong.ts";
import { en as deliveryFailed } from "../conditions/delivery-failed.ts";
import { en as diskLow } from "../conditions/disk-low.ts";
import { en as drumHighHigh } from "../conditions/drum-high-high.ts";
import { en as drumLeaking } from "../conditions/drum-leaking.ts";
import { en as drumLow } from "../conditions/drum-low.ts";
import { en as drumNotStopping } from "../conditions/drum-not-stopping.ts";
import { en as drumOffTarget } from "../conditions/drum-off-target.ts";
import { en as fillLong } from "../conditions/fill-long.ts";
import { en as fillSlow } from "../conditions/fill-slow.ts";
import { en as floatChatter } from "../conditions/float-chatter.ts";
import { en as floatDisagrees } from "../conditions/float-disagrees.ts";
import { en as floatStuck } from "../conditions/float-stuck.ts";
import { en as floatUnproven } from "../conditions/float-unproven.ts";
import { en as floorWet } from "../conditions/floor-wet.ts";
import { en as flowDisagrees } from "../conditions/flow-disagrees.ts";
import { en as frost } from "../conditions/frost.ts";
import { en as heartbeatMissed } from "../conditions/heartbeat-missed.ts";
import { en as membranePassing } from "../conditions/membrane-passing.ts";
import { en as noInflow } from "../conditions/no-inflow.ts";
import { en as nodeSilent } from "../conditions/node-silent.ts";
import { en as probeFlat } from "../conditions/probe-flat.ts";
import { en as probeImplausible } from "../conditions/probe-implausible.ts";
import { en as probeUnproven } from "../conditions/probe-unproven.ts";
import { en as readingsRefused } from "../conditions/readings-refused.ts";
import { en as removalLow } from "../conditions/removal-low.ts";
import { en as resinBreakthrough } from "../conditions/resin-breakthrough.ts";
import { en as seriesBehind } from "../conditions/series-behind.ts";
import { en as siteSilent } from "../conditions/site-silent.ts";
import { en as temperatureOut } from "../conditions/temperature-out.ts";
import { en as tripDrift } from "../conditions/trip-drift.ts";
import { en as unplannedInflow } from "../conditions/unplanned-inflow.ts";
import { en as watchLost } from "../conditions/watch-lost.ts";
import { en as workForgotten } from "../conditions/work-forgotten.ts";

/** English words of every condition. A row has its id from here: a condition without words is not built. */
export const conditions = {
  "back-flow": backFlow,
  "broker-lost": brokerLost,
  "broker-refuses": brokerRefuses,
  "clock-wrong": clockWrong,
  "delivery-failed": deliveryFailed,
  "disk-low": diskLow,
  "drum-high-high": drumHighHigh,
  "drum-leaking": drumLeaking,
  "drum-low": drumLow,
  "drum-not-stopping": drumNotStopping,
  "drum-off-target": drumOffTarget,
  "fill-long": fillLong,
  "fill-slow": fillSlow,
  "float-chatter": floatChatter,
  "float-disagrees": floatDisagrees,
  "float-stuck": floatStuck,
  "float-unproven": floatUnproven,
  "floor-wet": floorWet,
  "flow-disagrees": flowDisagrees,
  frost,
  "heartbeat-missed": heartbeatMissed,
  "membrane-passing": membranePassing,
  "no-inflow": noInflow,
  "node-silent": nodeSilent,
  "probe-flat": probeFlat,
  "probe-implausible": probeImplausible,
  "probe-unproven": probeUnproven,
  "readings-refused": readingsRefused,
  "removal-low": removalLow,
  "resin-breakthrough": resinBreakthrough,
  "series-behind": seriesBehind,
  "site-silent": siteSilent,
  "temperature-out": temperatureOut,
  "trip-drift": tripDrift,
  "unplanned-inflow": unplannedInflow,
  "watch-lost": watchLost,
  "work-forgotten": workForgotten,
};

/** Every condition that has words. */
export type ConditionId = keyof typeof conditions;
