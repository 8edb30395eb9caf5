import { readLineFile } from "@drumlin/gateway/alarms";
import { guardFigures, learn, nothingLearned } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";

// Worked out by hand from the rules of the guard, before the first run: 200 L, trips at 170 L, 4 L/min.
function figures(
  parts: string,
  {
    fills = 0,
    flow = "",
    isOverflowProved = false,
    fillL = 20,
    peakL = 0,
    fillMin = 5,
    peakMin = 0,
    flows = "",
    readEachMs = 5000 as number | null,
  } = {},
) {
  const read = readLineFile(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
stages: { resin: { kind: resin, from: supply, to: after-resin${flow} } }
drums: { mix: { volume: 200 L, fed_by: after-resin, ${parts} } }
${flows}
`);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  const learned = nothingLearned();
  const took = { tripAtL: null, litres: fillL, durationMs: fillMin * 60_000 };
  for (let index = 0; index < fills; index += 1) learn(learned, took);
  const isPeak = peakL > 0 || peakMin > 0;
  const most = { litres: Math.max(fillL, peakL), durationMs: Math.max(fillMin, peakMin) * 60_000 };
  if (isPeak) learn(learned, { tripAtL: null, ...most, atMs: 43_200_000 });
  for (let index = 0; index < fills * 4 && isPeak; index += 1) learn(learned, { ...took, atMs: 50_000_000 });
  const [drum] = read.line.drums;
  if (!drum) throw new Error("no drum");
  return guardFigures(read.line, drum, {
    learned,
    seenFlowLPerMin: null,
    isOverflowProved,
    readEachMs,
  });
}
const stop = "stop: { channel: drums/stop, trips_at: 170 L }, greatest_flow: 4 L/min";
const meter = ", flow: press/flow-1";

describe("what guards a drum, in figures", () => {
  it("a level: told at trip + 4 % of the drum before five trips, 178 L, 5.5 min before the edge", () => {
    const { by, unseen, next } = figures(`${stop}, level: { channel: drums/l, as: volume }`);
    expect(by.join()).toMatch(/told at 178 L, 5.5 min before it runs over at 4 L\/min/);
    expect(unseen.join()).toMatch(/Level stuck and float stuck/);
    expect(unseen.join()).toMatch(/hangs on one node, drums/);
    expect(unseen.join()).toMatch(/Fewer than five fills/);
    expect(next).toMatch(/overflow float/);
  });
  it.each([
    [195, /told at 198 L, 1 min before it runs over at 2 L\/min/],
    // 206 L is over the edge, so it guards nothing.
    [198, /206 L: over the edge/],
  ])("a level whose float trips at %i L", (litres, text) => {
    const { by } = figures(
      `stop: { channel: drums/stop, trips_at: ${litres} L }, level: { channel: drums/l, as: volume }`,
    );
    expect(by.join()).toMatch(text);
  });
  it("a meter alone, untaught: 1.1 times the drum, 220 L, of which 190 run over a drum that was full", () => {
    const { by, unseen } = figures(stop, { flow: meter });
    expect(by.join()).toMatch(/after 220 L in one fill.*up to 190 L will have run over/);
    // Its wheel stands under 0.5 L/min: 480 min of it.
    expect(unseen.join()).toMatch(/less than 0.5 L\/min.*up to 240 L in 8 h/);
    expect(unseen.join()).toMatch(/poured in by hand/);
  });
  it("a meter after six fills of 40 L: 1.25 × 40 and a minute of flow, 54 L, of which 24 run over", () => {
    expect(figures(stop, { flow: meter, fills: 6, fillL: 40 }).by.join()).toMatch(/after 54 L.*up to 24 L/);
  });
  it("at noon, when 100 L were once drawn: only after 1.25 × 100 and a minute of flow, 129 L, 99 of them on the floor", () => {
    expect(figures(stop, { flow: meter, fills: 6, peakL: 100 }).by.join()).toMatch(
      /after 29 L.*At the time of day.*after 129 L: up to 99 L/,
    );
    expect(figures(stop, { flow: meter, fills: 6 }).by.join()).not.toMatch(/time of day/);
  });
  it("by hand 1.2 × the longest of the last, 24 min of 20; where 40 min were once filled at noon, then 192 L", () => {
    const byHand = `control: manual, ${stop}`;
    expect(figures(byHand, { fills: 6, fillMin: 20 }).by.join()).toMatch(/after 24 min.*up to 66 L/);
    expect(figures(byHand, { fills: 6, fillMin: 20, peakMin: 40 }).by.join()).toMatch(
      /after 24 min.*At the time of day.*after 192 L: up to 162 L/,
    );
  });
  it("a level read each 60 s: what comes in within 27 s of 300 is 9 %; 3 % need 20 s", () => {
    const parts = `stop: { channel: drums/stop, trips_at: 170 L, releases_at: 150 L }, greatest_flow: 4 L/min, control: automatic`;
    const withLevel = `${parts}, level: { channel: drums/l, as: volume }`;
    expect(figures(withLevel, { readEachMs: 60_000 }).unseen.join()).toMatch(
      /Read each 60 s.*to 9 % at best\. For 3 %: each 20 s/,
    );
    expect(figures(withLevel, { readEachMs: 15_000 }).unseen.join()).not.toMatch(/litres of a fill/);
    expect(figures(withLevel, { readEachMs: null }).unseen.join()).toMatch(/within 3 %.*each 20 s/);
    // Begin and end of a fill of 300 s, each within 60 s: 41 s, 14 %.
    expect(figures(parts, { readEachMs: 60_000 }).unseen.join()).toMatch(
      /to 14 % at best\. For 10 %: each 43 s/,
    );
    expect(figures(withLevel, { flow: meter, readEachMs: 60_000 }).unseen.join()).not.toMatch(/litres of/);
  });
  it("its own starting flow", () => {
    const { unseen } = figures(stop, {
      flow: ", flow: { channel: press/flow-1, min_flow: 0.1 L/min, taps: true }",
    });
    expect(unseen.join()).toMatch(/less than 0.1 L\/min.*up to 48 L/);
    expect(unseen.join()).toMatch(/Taps hang behind the meter/);
  });
  it("and that of a meter that stands by itself", () => {
    const flows = "flows: { after-resin: { channel: press/flow-1, min_flow: 0.1 L/min, taps: true } }";
    const { unseen } = figures(stop, { flows });
    expect(unseen.join()).toMatch(/less than 0.1 L\/min.*up to 48 L/);
    expect(unseen.join()).toMatch(/Taps hang behind the meter/);
  });
  it("a float alone: 200 L at 2 L/min × 1.5 is 150 min, in which 600 L come and 570 run over", () => {
    expect(figures(stop).by.join()).toMatch(/after 150 min.*up to 570 L/);
  });
  it("an overflow float counts once it was tested", () => {
    const parts = `${stop}, floats: { overflow: room/over }`;
    expect(figures(parts).by.join()).toMatch(/nothing counts on it until it is tested/);
    expect(figures(parts, { isOverflowProved: true }).by.join()).toMatch(/Its test holds/);
    expect(figures(parts).next).toMatch(/level sensor/);
  });
  it("no flow known: for 2 L/min, typical", () => {
    expect(figures("stop: drums/stop").unseen.join()).toMatch(/for 2 L\/min: typical, not yours/);
  });
  it("nothing at all", () => {
    const { by, next } = figures("control: manual");
    expect([by.join(), next]).toEqual([
      "Nothing: no float, level or meter tells that it fills.",
      "Next: a float that stops it.",
    ]);
  });

  it("litres that nobody can know are said so: a clock's valve, by hand, a meter before two drums", () => {
    const said = (parts: string, flow = "") => figures(parts, { flow }).unseen.join(" ");
    const stop = "stop: { channel: drums/stop, trips_at: 170 L, releases_at: 150 L }";
    expect(said(`${stop}, inlet: { channel: drums/valve }`)).toMatch(/litres a fill brings is not known/);
    expect(said(`control: manual, ${stop}`)).toMatch(/litres a fill brings is not known.*nobody announces/);
    expect(said(`control: manual, ${stop}, level: { channel: drums/l, as: volume }`)).not.toMatch(
      /not known:/,
    );
    expect(said(`control: manual, ${stop}`, ", flow: press/flow-1")).not.toMatch(
      /brings is not known|announces is water/,
    );
    const two = `${stop} }, other: { volume: 200 L, fed_by: after-resin, stop: drums/stop-2`;
    expect(said(two, ", flow: press/flow-1")).toMatch(/put together, not counted/);
    expect(said(stop, ", flow: press/flow-1")).not.toMatch(/put together/);
  });
});
