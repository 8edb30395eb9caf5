import type { PointView } from "@drumlin/gateway/contract";
import { line } from "../data/state.ts";

/** The point with a limit that feeds drums: what the quality of water goes by; null where there is none. */
export function judgedPoint(): (PointView & { readonly limit: number }) | null {
  const { points = [], drums = [] } = line.value ?? {};
  const isJudged = (point: PointView): point is PointView & { limit: number } =>
    point.limit !== null && drums.some(({ fedBy }) => fedBy === point.id);
  return points.find(isJudged) ?? null;
}
