// Written by tests/tooling/conditions-table.ts.
import { de as backFlow } from "../conditions/back-flow.ts";
import { de as brokerLost } from "../conditions/broker-lost.ts";
import { de as brokerRefuses } from "../conditions/broker-refuses.ts";
import { de as clockWrong } from "../conditions/clock-wrong.ts";
import { de as deliveryFailed } from "../conditions/delivery-failed.ts";
import { de as diskLow } from "../conditions/disk-low.ts";
import { de as drumHighHigh } from "../conditions/drum-high-high.ts";
import { de as drumLeaking } from "../conditions/drum-leaking.ts";
import { de as drumLow } from "../conditions/drum-low.ts";
import { de as drumNotStopping } from "../conditions/drum-not-stopping.ts";
import { de as drumOffTarget } from "../conditions/drum-off-target.ts";
import { de as fillLong } from "../conditions/fill-long.ts";
import { de as fillSlow } from "../conditions/fill-slow.ts";
import { de as floatChatter } from "../conditions/float-chatter.ts";
import { de as floatDisagrees } from "../conditions/float-disagrees.ts";
import { de as floatStuck } from "../conditions/float-stuck.ts";
import { de as floatUnproven } from "../conditions/float-unproven.ts";
import { de as floorWet } from "../conditions/floor-wet.ts";
import { de as flowDisagrees } from "../conditions/flow-disagrees.ts";
import { de as frost } from "../conditions/frost.ts";
import { de as heartbeatMissed } from "../conditions/heartbeat-missed.ts";
import { de as membranePassing } from "../conditions/membrane-passing.ts";
import { de as noInflow } from "../conditions/no-inflow.ts";
import { de as nodeSilent } from "../conditions/node-silent.ts";
import { de as probeFlat } from "../conditions/probe-flat.ts";
import { de as probeImplausible } from "../conditions/probe-implausible.ts";
import { de as probeUnproven } from "../conditions/probe-unproven.ts";
import { de as readingsRefused } from "../conditions/readings-refused.ts";
import { de as removalLow } from "../conditions/removal-low.ts";
import { de as resinBreakthrough } from "../conditions/resin-breakthrough.ts";
import { de as seriesBehind } from "../conditions/series-behind.ts";
import { de as siteSilent } from "../conditions/site-silent.ts";
import { de as temperatureOut } from "../conditions/temperature-out.ts";
import { de as tripDrift } from "../conditions/trip-drift.ts";
import { de as unplannedInflow } from "../conditions/unplanned-inflow.ts";
import { de as watchLost } from "../conditions/watch-lost.ts";
import { de as workForgotten } from "../conditions/work-forgotten.ts";
import type { ConditionId } from "../en/conditions.ts";
import type { ConditionText } from "../form/condition-text.ts";

/** The same in another language: one that says less is not built. */
export const conditions: Readonly<Record<ConditionId, ConditionText>> = {
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
