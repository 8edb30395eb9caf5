import { type Fixture, goodDrum, goodPoint } from "./fixture-server.ts";

/** A house with one good point and one good drum, where nothing is wrong. */
export const calmFixture: Fixture = {
  now: () => Date.now(),
  points: (nowMs) => [goodPoint(nowMs)],
  drums: (nowMs) => [goodDrum(nowMs)],
  alarms: [],
  buckets: null,
  refuse: false,
};
