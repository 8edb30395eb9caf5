import type { FloatEdge } from "@drumlin/gateway/fills";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FloatAsks } from "../../gateway/src/app/requests/float-asks.ts";
import { lineOf } from "./drum-house.ts";
import { beginMs, createLineBench } from "./line-bench.ts";
import { pressPack } from "./node-says.ts";

beforeEach(() => {
  vi.useFakeTimers({ now: beginMs });
});
afterEach(() => {
  vi.useRealTimers();
});

const stopFromS = 940;
const wetFromS = 1000;

/** A metered drum whose valve does not shut. Its node reads both floats once a minute, and at once where it `answers`. */
async function life(answers: boolean) {
  vi.setSystemTime(beginMs);
  const bench = createLineBench(lineOf({ meter: true, overflow: true }));
  const nowS = () => (Date.now() - beginMs) / 1000;
  const edges: { readonly atS: number; readonly tMs: number | null }[] = [];
  let seen = 0;
  let packs = 0;
  const read = () => {
    packs += 1;
    const labels = { boot: 9, seq: packs, up: 50 + nowS() };
    const said = [
      { ...labels, n: "stop", vb: nowS() >= stopFromS },
      { n: "over", vb: nowS() >= wetFromS },
    ];
    bench.node("drums", said, nowS());
  };
  const asks = new FloatAsks({
    engineMs: Date.now,
    node: () => ({ understands: answers, periodMs: 60_000 }),
    async ask() {
      read();
      return { outcome: "done" };
    },
  });
  const hear = () => {
    for (const outcome of bench.outcomes.slice(seen))
      if (outcome.kind === "float-edge") {
        edges.push({ atS: nowS(), tMs: outcome.tMs });
        asks.take(outcome as FloatEdge);
      }
    seen = bench.outcomes.length;
  };
  bench.presence("drums", { state: "online", boot: 9, period_s: 60 }, 0);
  for (let tenths = 0; tenths < 13_000; tenths += 1) {
    if (tenths % 600 === 210) read();
    if (tenths % 50 === 0)
      bench.node("press", pressPack({ kappa: 0.5, flowLPerMin: tenths < 6000 ? 0 : 4 }), nowS());
    else if (tenths % 10 === 0) bench.tick(nowS());
    hear();
    await vi.advanceTimersByTimeAsync(100);
    hear();
  }
  asks.stop();
  const raisedS = (condition: string) => {
    const raised = bench.alarms().find(({ alarm, why }) => alarm.condition === condition && why === "raised");
    return raised ? (raised.atMs - beginMs) / 1000 : null;
  };
  return { packs, edges, overfullS: raisedS("drum-high-high"), runsOnS: raisedS("drum-not-stopping") };
}

describe("floats that are read once a minute", () => {
  it("count 3 s after their first reading where their node answers: an overfull drum wakes most of a minute sooner", async () => {
    const [asked, unasked] = [await life(true), await life(false)];
    // First read at 981 s (stop) and 1041 s (overflow).
    expect(unasked.edges.map(({ atS }) => Math.round(atS))).toEqual([981, 1041, 1041, 1101]);
    expect(asked.edges.map(({ atS }) => Math.round(10 * atS) / 10)).toEqual([981, 984.1, 1041, 1044.1]);
    expect(asked.edges.map(({ tMs }) => tMs !== null)).toEqual([true, false, true, false]);
    expect(asked.packs).toBe(unasked.packs + 2);
    expect([asked.overfullS, unasked.overfullS]).toEqual([1044.1, 1101]);
    // A stop that fails is told by the flow after its grace, counted from the first reading on: as soon either way.
    expect([asked.runsOnS, unasked.runsOnS]).toEqual([1110, 1110]);
  });
});
