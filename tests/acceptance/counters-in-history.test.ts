// Counters of nodes and guided tests of floats, live and told again from what is stored. The expectations were written down
// before the first run.
import { expect, it } from "vitest";
import type { LifeStep } from "../golden/house-life.ts";
import { livedTwice } from "./lived-twice.ts";

const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);
const periodS = 15;
const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin, flow: press/flow-1 } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, stop: { channel: drums/stop, wet: true, trips_at: 180 L, releases_at: 160 L }, floats: { overflow: drums/over } }
`;
const within = (atS: number, [fromS, toS]: readonly [number, number]) => atS >= fromS && atS < toS;
/** Water runs; nodes are silent: nothing happens in the first silence, a fill of 5 min in the second. */
const runs = [
  [0, 600],
  [7200, 7500],
  [9600, 9900],
] as const;
const silent = [
  [3000, 6600],
  [9000, 10_800],
] as const;
/** The stop float hangs dry before each fill, and is lifted for a test; the overflow float's contact is reversed, and lifted. */
const dry = [
  [0, 600],
  [7000, 7500],
  [9300, 9900],
] as const;
const liftedStop = [7080, 7110] as const;
const liftedOver = [12_000, 12_030] as const;

/** What both nodes say, and what people do. */
function life(): readonly LifeStep[] {
  const steps: LifeStep[] = [{ what: "line", atMs: beginMs, yaml } as LifeStep];
  let [changes, overChanges, totalL, seq] = [0, 0, 0, 0];
  let [wasWet, wasClosed]: (boolean | null)[] = [null, null];
  const say = (node: string, atS: number, [first, ...rest]: object[]) =>
    steps.push({
      what: "message",
      atMs: beginMs + atS * 1000,
      topic: `drumlin/1/saltmarsh-house/${node}/readings`,
      text: JSON.stringify([{ boot: 7, seq, up: 100 + atS, ...first }, ...rest]),
    } as LifeStep);
  const act = (atS: number, given: object) =>
    steps.push({ what: "act", atMs: beginMs + atS * 1000, act: given } as LifeStep);
  for (let atS = 15; atS < 13_200; atS += periodS) {
    const isRunning = runs.some((span) => within(atS, span));
    if (isRunning) totalL += periodS / 15;
    const wet = !dry.some((span) => within(atS, span)) || within(atS, liftedStop);
    const closed = !within(atS, liftedOver);
    if (wasWet !== null && wasWet !== wet) changes += 1;
    if (wasClosed !== null && wasClosed !== closed) overChanges += 1;
    [wasWet, wasClosed] = [wet, closed];
    if (!silent.some((span) => within(atS, span))) {
      say("press", atS, [
        { n: "t-1", u: "Cel", v: 25 },
        { n: "t-2", u: "Cel", v: 25 },
        { n: "ec-1", u: "S/m", v: 0.04 },
        { n: "ec-2", u: "S/m", v: 0.00005 },
        { n: "flow-1", u: "m3/s", v: isRunning ? 4 / 60_000 : 0 },
        { n: "flow-1.total", u: "m3", v: totalL / 1000 },
      ]);
      say("drums", atS, [
        { n: "stop", vb: wet },
        { n: "stop.changes", u: "count", v: changes },
        { n: "over", vb: closed },
        { n: "over.changes", u: "count", v: overChanges },
      ]);
      seq += 1;
    }
    if (atS === 705) act(708, { type: "release", drum: "mix", reason: "hand-test", value25UsPerCm: 0.5 });
    if (atS === 7050) act(7052, { type: "proof-start", float: "mix.stop", method: "lifted" });
    if (atS === 11_970) act(11_972, { type: "proof-start", float: "mix.overflow", method: "bucket" });
    if (atS === 12_090)
      act(12_092, {
        type: "proof-turn",
        float: "mix.overflow",
        test: `mix.overflow@${beginMs + 11_972_000}`,
      });
  }
  return steps;
}

it("silences proved empty or not, a proof and a turned contact: history gives what live gave, byte for byte", async () => {
  const told = await livedTwice(life(), 60_000);
  expect(told).not.toBeNull();
  const outcomes = told?.outcomes ?? [];
  const wordAt = (atS: number) => {
    const last = outcomes.findLast((one) => one.kind === "drum-water" && one.atMs <= beginMs + atS * 1000);
    return last?.kind === "drum-water" ? last.verdict : null;
  };
  // An hour in which the counters stood still, and half an hour in which they did not.
  expect([wordAt(2900), wordAt(6900), wordAt(11_500)]).toEqual(["use", "use", "unknown"]);
  expect(outcomes.flatMap((one) => (one.kind === "proof" ? [[one.float, one.result]] : []))).toEqual([
    ["mix.stop", "passed"],
    ["mix.overflow", "reversed"],
    ["mix.overflow", "turned"],
  ]);
  // From the turn on the overflow float hangs dry.
  const over = outcomes.flatMap((one) =>
    one.kind === "measurement" && one.subject.kind === "float" && one.subject.id === "mix.overflow"
      ? [one.value]
      : [],
  );
  expect([over[0], over.at(-1)]).toEqual([1, 0]);
  expect(told?.past).toEqual(told?.live);
});
