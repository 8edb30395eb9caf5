// Slow water shows late at its level: what rises there after the float has ended a fill is of that fill for as long as
// noise hides it, and a fill of its own after that.
import { expect, it } from "vitest";
import { nothingLearned } from "../../../gateway/src/fills/learned.ts";
import { lingers } from "../../../gateway/src/fills/record/fill-over.ts";

const minuteMs = 60_000;
const endMs = 20_000 * 24 * 60 * minuteMs;

/** Whether a rise told so long after a fill's end is still of it; noise hides 3 L. */
function isOfIt({ minutes, flow, wet = true, sinceEndMin = -10, cameL }: Rise): boolean {
  const atMs = endMs + minutes * minuteMs;
  const of = {
    record: {
      learned: nothingLearned(),
      lastEndMs: endMs,
      ...(cameL === undefined ? {} : { lastEndL: 500 }),
    },
    said: {
      atMs,
      stop: { heard: true, wet },
      level: { periodMs: 15_000, noticeableL: 3, inflowL: cameL === undefined ? null : 500 + cameL },
      greatestFlowLPerMin: flow,
    },
  } as unknown as Parameters<typeof lingers>[0];
  return lingers(of, {
    flowing: true,
    basis: "level",
    flowLPerMin: flow,
    sinceMs: endMs + sinceEndMin * minuteMs,
    estimated: false,
    meter: null,
  });
}
interface Rise {
  readonly minutes: number;
  readonly flow: number;
  readonly wet?: boolean;
  /** Since when it rises, min after the end. */
  readonly sinceEndMin?: number;
  /** What its level has counted since the end, L; absent: nobody knows. */
  readonly cameL?: number;
}

it.each<readonly [string, Rise, boolean]>([
  ["0.4 L/min, 12 min after: hidden for four times 7.5 min", { minutes: 12, flow: 0.4 }, true],
  ["0.4 L/min, 31 min after", { minutes: 31, flow: 0.4 }, false],
  ["0.1 L/min, 31 min after: for no longer than half an hour", { minutes: 31, flow: 0.1 }, false],
  ["4 L/min, 4 min after", { minutes: 4, flow: 4 }, true],
  ["4 L/min, 6 min after", { minutes: 6, flow: 4 }, false],
  ["0.4 L/min that began after the end", { minutes: 12, flow: 0.4, sinceEndMin: 1 }, false],
  ["0.4 L/min, 45 min after, and nothing has come in since", { minutes: 45, flow: 0.4, cameL: 0.5 }, true],
  ["0.4 L/min, 45 min after, and 4 L have come in since", { minutes: 45, flow: 0.4, cameL: 4 }, false],
  ["0.4 L/min while the float calls", { minutes: 12, flow: 0.4, wet: false }, false],
])("%s", (_name, rise, expected) => {
  expect(isOfIt(rise)).toBe(expected);
});
