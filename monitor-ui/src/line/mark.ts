import type { AlarmView, LineView, PointView } from "@drumlin/gateway/contract";
import { isStanding } from "../data/alarm-state.ts";
import { pointSilentSince } from "../format/freshness.ts";

/** How a point is marked: filled disc, ring, filled triangle, open triangle, dashed ring, tick. */
export type PointLook = "ok" | "live" | "over" | "alarmed" | "stale" | "noprobe";

/** Of a point: good only by a fresh, judged, unsuspected reading on a page that hears its gateway. */
export function lookOf(
  point: PointView,
  {
    line,
    alarms,
    lost,
    nowMs,
  }: { line: LineView; alarms: readonly AlarmView[]; lost: boolean; nowMs: number },
): { readonly look: PointLook; readonly alarm: AlarmView | null } {
  const alarm = alarms.find(({ subject, state }) => subject === point.id && isStanding(state)) ?? null;
  if (!point.hasProbe) return { look: "noprobe", alarm };
  const { value, flag } = point.conductivity25;
  const isSilent = lost || pointSilentSince(line, point, nowMs) !== null;
  if (isSilent || value === null || flag === 4 || flag === 9) return { look: "stale", alarm };
  if (point.judged.now && point.limit !== null && value > point.limit && flag !== 3)
    return { look: "over", alarm };
  if (alarm) return { look: "alarmed", alarm };
  return { look: point.limit !== null && point.judged.now && flag !== 3 ? "ok" : "live", alarm };
}
