import { z } from "zod";
import { runCell } from "../../fills/index.ts";
import { compileLine, type Slot } from "../../line/index.ts";
import { latestCell } from "../../measurements/index.ts";
import type { Condition } from "../condition.ts";
import { flowGate } from "../flow-gate.ts";
import { kappa25 } from "../point-and-feed.ts";
import { series } from "../reading-of.ts";
import { channelsOf } from "../subject.ts";

/** A probe reads at or under its smallest step, and nothing showed lately that it still reads anything. */
export const probeUnproven: Condition<object, { readonly own: string; readonly point: string }> = {
  id: "probe-unproven",
  subjectKinds: ["channel"],
  words: {
    unit: "uS/cm",
    source: "a week: common practice, no source",
    when: "at or under its resolution for a minute of running water, and not above it for 7 days. Over once it reads above it",
    attention: "record",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: (line) =>
    channelsOf(line, ({ signal, subject }) => signal === "conductivity" && subject.kind === "point"),
  place(line, { id }) {
    const { subject } = compileLine(line).slotOf.get(id) as Slot;
    return { own: kappa25(subject.id), point: subject.id };
  },
  reads: [latestCell, runCell],
  hears: ({ own, point }) => [series(own), { cell: runCell, key: point }],
  gate: ({ board, place }) => flowGate(board.get(runCell, place.point)),
  judge({ board, place }) {
    const latest = board.get(latestCell, place.own);
    if (!latest || latest.gone || latest.measurement.value === null) return { is: "unknown", value: null };
    const { reasons, value, tMs } = latest.measurement;
    return { is: reasons.includes("unproven"), value, tMs };
  },
  calmWithin: ({ place }) => [{ series: place.own }],
  on: () => ({ judgedMs: 60_000 }),
  off: () => ({}),
  isLatching: false,
  attention: () => "record",
};
