// Written by tests/tooling/conditions-table.ts.
import type { AnyCondition } from "./condition.ts";
import { backFlow } from "./conditions/back-flow.ts";
import { brokerLost } from "./conditions/broker-lost.ts";
import { brokerRefuses } from "./conditions/broker-refuses.ts";
import { clockWrong } from "./conditions/clock-wrong.ts";
import { deliveryFailed } from "./conditions/delivery-failed.ts";
import { diskLow } from "./conditions/disk-low.ts";
import { drumHighHigh } from "./conditions/drum-high-high.ts";
import { drumLeaking } from "./conditions/drum-leaking.ts";
import { drumLow } from "./conditions/drum-low.ts";
import { drumNotStopping } from "./conditions/drum-not-stopping.ts";
import { drumOffTarget } from "./conditions/drum-off-target.ts";
import { fillLong } from "./conditions/fill-long.ts";
import { fillSlow } from "./conditions/fill-slow.ts";
import { floatChatter } from "./conditions/float-chatter.ts";
import { floatDisagrees } from "./conditions/float-disagrees.ts";
import { floatStuck } from "./conditions/float-stuck.ts";
import { floatUnproven } from "./conditions/float-unproven.ts";
import { floorWet } from "./conditions/floor-wet.ts";
import { flowDisagrees } from "./conditions/flow-disagrees.ts";
import { frost } from "./conditions/frost.ts";
import { heartbeatMissed } from "./conditions/heartbeat-missed.ts";
import { membranePassing } from "./conditions/membrane-passing.ts";
import { noInflow } from "./conditions/no-inflow.ts";
import { nodeSilent } from "./conditions/node-silent.ts";
import { probeFlat } from "./conditions/probe-flat.ts";
import { probeImplausible } from "./conditions/probe-implausible.ts";
import { probeUnproven } from "./conditions/probe-unproven.ts";
import { readingsRefused } from "./conditions/readings-refused.ts";
import { removalLow } from "./conditions/removal-low.ts";
import { resinBreakthrough } from "./conditions/resin-breakthrough.ts";
import { seriesBehind } from "./conditions/series-behind.ts";
import { siteSilent } from "./conditions/site-silent.ts";
import { temperatureOut } from "./conditions/temperature-out.ts";
import { tripDrift } from "./conditions/trip-drift.ts";
import { unplannedInflow } from "./conditions/unplanned-inflow.ts";
import { watchLost } from "./conditions/watch-lost.ts";
import { workForgotten } from "./conditions/work-forgotten.ts";

/** Every condition that is judged, in the order in which a step judges them and lists show them. */
export const conditionRows: readonly AnyCondition[] = [
  resinBreakthrough,
  membranePassing,
  drumNotStopping,
  drumHighHigh,
  floorWet,
  drumLow,
  temperatureOut,
  brokerLost,
  siteSilent,
  nodeSilent,
  readingsRefused,
  clockWrong,
  diskLow,
  seriesBehind,
  fillLong,
  flowDisagrees,
  watchLost,
  noInflow,
  unplannedInflow,
  deliveryFailed,
  heartbeatMissed,
  floatDisagrees,
  floatStuck,
  floatChatter,
  tripDrift,
  floatUnproven,
  frost,
  drumOffTarget,
  backFlow,
  fillSlow,
  drumLeaking,
  probeImplausible,
  probeUnproven,
  probeFlat,
  workForgotten,
  removalLow,
  brokerRefuses,
];
