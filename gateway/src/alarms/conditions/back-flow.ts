import {
  backFlowLimit25,
  backFlowMs,
  backFlowPlaces,
  maxSupplyAgeMs,
  runCell,
  usualBackFlow25,
} from "../../fills/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { standstillGate } from "../flow-gate.ts";
import { overLimit } from "../held-against.ts";
import { limitOver0, type OneLimit } from "../one-limit.ts";
import { feedReading, type PointAndFeed, pointAndFeed, workBefore } from "../point-and-feed.ts";
import { readingOf, series } from "../reading-of.ts";
import { subjectOf } from "../subject.ts";

/** Water comes back from a drum through the hose: it stands behind the resin, worse than the supply ever was. */
export const backFlow: Condition<OneLimit, PointAndFeed> = {
  id: "back-flow",
  subjectKinds: ["point"],
  words: {
    unit: "uS/cm",
    source: "back-siphonage: US EPA, Cross-Connection Control Manual, EPA 816-R-03-002 (2003)",
    when: "at standstill κ25 behind resin or membrane over 1.2 times the supply and at least 100 uS/cm, for 5 min; held until reset",
    attention: "tell",
  },
  settings: limitOver0("uS/cm at 25 °C"),
  defaults: () => ({ limit: usualBackFlow25 }),
  subjects: (line) => [...backFlowPlaces(line).keys()].map((id) => subjectOf("point", id)),
  place: (line, { id }) => pointAndFeed(id, backFlowPlaces(line).get(id)?.supply ?? null),
  reads: [latestCell, runCell],
  hears: ({ own, point }) => [series(own), { cell: runCell, key: point }],
  gate: ({ board, place }) => standstillGate(board.get(runCell, place.point)),
  judge({ board, place, limits, nowMs }) {
    const supply = feedReading(board, place, nowMs, maxSupplyAgeMs);
    const limit = supply === null ? null : backFlowLimit25(limits.limit, supply.value);
    return overLimit(readingOf(board, place.own), limit);
  },
  // While water runs, or nothing tells that it stands, it may be what it likes.
  calmWithin({ board, place, nowMs }) {
    const supply = feedReading(board, place, nowMs, maxSupplyAgeMs);
    if (!supply || place.feed === null || !standstillGate(board.get(runCell, place.point))) return null;
    const beside = { series: place.feed, untilMs: supply.tMs + maxSupplyAgeMs };
    return place.own === place.feed ? [beside] : [{ series: place.own }, beside];
  },
  on: () => ({ judgedMs: backFlowMs }),
  off: () => ({}),
  isLatching: true,
  attention: () => "tell",
  work: workBefore,
};
