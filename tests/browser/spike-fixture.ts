import type { Buckets } from "@drumlin/gateway/contract";
import { calmFixture } from "./calm-fixture.ts";
import type { Fixture } from "./fixture-server.ts";

/** Two weeks at 20 L, and one reading of 95 L a week ago, among some hundred of its bucket. */
export function withSpike(fromMs: number, toMs: number, count: number): Buckets {
  const bucketMs = (toMs - fromMs) / count;
  const t = Array.from({ length: count }, (_, at) => fromMs + at * bucketMs);
  const spike = Math.floor(count / 2);
  return {
    unit: "L",
    bucketMs,
    t,
    min: t.map(() => 19.8),
    mean: t.map((_, at) => (at === spike ? 20.1 : 20)),
    max: t.map((_, at) => (at === spike ? 95 : 20.2)),
    count: t.map(() => 300),
    flag: t.map(() => 1),
  };
}

/** A calm house whose one drum has that spike. */
export const fixture: Fixture = { ...calmFixture, series: withSpike };
