import { createPipeline } from "@drumlin/gateway/app";
import { expect, it } from "vitest";
import { liveOf } from "./live-of.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
stages: { resin: { kind: resin, from: supply, to: clean } }
drums:
  mix: { volume: 200 L, fed_by: clean, control: manual, holds: salt, target: { salinity: 35 }, stop: drums/stop, conductivity: drums/ec, temperature: drums/t }
`;
const beginMs = Date.UTC(2026, 2, 3, 4);
const encoder = new TextEncoder();

/** The batch and word on a drum's card at so many minutes: salted at 1 min, its probe is heard each minute but from 20 to 40 min. */
function shownAt(minutes: readonly number[], steps: Readonly<Record<number, object>> = {}) {
  const pipeline = createPipeline();
  const push = (given: object, atS: number) =>
    pipeline.push(
      { seq: Math.round(atS * 10) + 1, receivedAt: beginMs + atS * 1000, ...given } as never,
      () => {},
    );
  push({ kind: "line", yaml }, 0);
  const live = liveOf(pipeline);
  const shown: unknown[] = [];
  for (let minute = 1; minute <= Math.max(...minutes); minute += 1) {
    const step = { 1: { step: "salted", kg: 6.5 }, ...steps }[minute];
    const act = { type: "batch", drum: "mix", id: `${minute}`, by: "mara", ...step };
    if (step) push({ kind: "act", act }, minute * 60 - 5);
    const isHeard = minute < 20 || minute >= 40;
    const probe = [
      { n: "ec", u: "S/m", v: 5.306 },
      { n: "t", u: "Cel", v: 25 },
    ];
    const records = [
      { boot: 1, seq: minute, up: minute * 60, n: "stop", vb: true },
      ...(isHeard ? probe : []),
    ];
    const topic = "drumlin/1/saltmarsh-house/drums/readings";
    push({ kind: "message", topic, payload: encoder.encode(JSON.stringify(records)) }, minute * 60);
    const drum = live.lineView()?.drums[0];
    if (minutes.includes(minute)) shown.push([drum?.batch?.state, drum?.batch?.salinity]);
  }
  return shown;
}

it("a salinity of a probe that is not heard any more is not shown as one of now", () => {
  expect(shownAt([15, 35, 45])).toEqual([
    ["mixing", 35],
    ["mixing", null],
    ["mixing", 35],
  ]);
  // What a person measured says so by itself.
  const byHand = { 33: { step: "ready", salinity: 35.2 } };
  expect(shownAt([35], byHand)).toEqual([["ready", 35.2]]);
});
