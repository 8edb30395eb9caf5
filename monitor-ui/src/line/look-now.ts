import type { LineView, PointView } from "@drumlin/gateway/contract";
import { alarms, gatewayNowMs, lost } from "../data/state.ts";
import { lookOf } from "./mark.ts";

/** How a point of the line is shown now. */
export const lookNow = (point: PointView, line: LineView) =>
  lookOf(point, { line, alarms: alarms.value, lost: lost.value, nowMs: gatewayNowMs.value });
