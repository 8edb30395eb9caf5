// A clock's valve before a float that shuts by itself, with a level: what is drawn while the valve is shut, though the float
// asks for water, hides no inflow, and the wait is none of the fill's. A model written by hand; each expectation before the
// first run.
import type { Fill } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import { ended } from "./drums-bench.ts";
import { beginMs, createLineBench } from "./line-bench.ts";

const line = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 } }
drums:
  mix: { volume: 200 L, fed_by: supply, control: automatic, stop: { channel: drums/stop, trips_at: 180 L, releases_at: 160 L }, inlet: { channel: drums/inlet }, level: { channel: drums/level, as: volume }, greatest_flow: 5 L/min }
`;
const hourS = 3600;
const isOpen = (atS: number) => atS % (2 * hourS) < hourS / 2;

interface Lived {
  /** L/min. */
  readonly draw: (atS: number) => number;
  readonly isSilent?: (atS: number) => boolean;
  readonly toS: number;
}

/** 4 L/min, float 160 / 180 L; a level whose readings lie 0.2 L around the truth; packs each 15 s. */
function lived({ draw, isSilent = () => false, toS }: Lived) {
  const bench = createLineBench(line);
  let litres = 181;
  let wet = true;
  const truth: { startS: number; endS: number; litres: number }[] = [];
  let ran = false;
  for (let atS = 0; atS < toS; atS += 1) {
    if (litres >= 180) wet = true;
    else if (litres <= 160) wet = false;
    const runs = isOpen(atS) && !wet;
    if (runs && !ran) truth.push({ startS: atS, endS: atS, litres: 0 });
    const last = truth.at(-1);
    if (runs && last) Object.assign(last, { endS: atS, litres: last.litres + 4 / 60 });
    ran = runs;
    litres += ((runs ? 4 : 0) - draw(atS)) / 60;
    if (atS % 15 === 3) bench.node("press", [{ n: "ec-1", u: "S/m", v: 0.04 }], atS);
    if (atS % 15 !== 8 || isSilent(atS)) continue;
    const noiseL = 0.2 * Math.sin(atS * 12.9898);
    bench.node(
      "drums",
      [
        { n: "stop", vb: wet },
        { n: "inlet", vb: isOpen(atS) },
        { n: "level", u: "m3", v: (litres + noiseL) / 1000 },
      ],
      atS,
    );
  }
  const calls = bench
    .alarms()
    .flatMap(({ annunciated, alarm }) => (annunciated ? [`${alarm.condition} ${alarm.attention}`] : []));
  return { fills: ended(bench), truth, calls };
}

const seconds = ({ startedAtMs, endedAtMs }: Fill) => ({
  startS: (startedAtMs - beginMs) / 1000,
  endS: ((endedAtMs as number) - beginMs) / 1000,
});
/** 22 L in 2 min, while the clock's valve stands open: whole fills of 20 L and a little. */
const usual = (atS: number) => (atS % (2 * hourS) >= 60 && atS % (2 * hourS) < 180 ? 11 : 0);
/** Before the tenth opening: 40 L by a hose, which is shut 20 s before the clock opens the valve. */
const emptied = (atS: number) => {
  const beforeS = 9 * 2 * hourS - atS;
  if (beforeS <= 0 || beforeS > hourS) return usual(atS);
  return beforeS > 20 && beforeS <= 320 ? 8 : 0;
};

describe("a hose that is drawn from while a clock keeps the valve shut", () => {
  const { fills, truth } = lived({ draw: emptied, toS: 9.5 * 2 * hourS });
  const last = truth.at(-1) as (typeof truth)[number];
  const fill = fills.at(-1) as Fill;
  it("is no inflow: the fill begins when the valve opens, to a minute, with the litres that came", () => {
    expect(last.startS).toBe(9 * 2 * hourS);
    expect(Math.abs(seconds(fill).startS - last.startS)).toBeLessThanOrEqual(75);
    expect(Math.abs((fill.litres as number) / last.litres - 1)).toBeLessThan(0.05);
    expect(fill.tripConfirmed).toBe(true);
  });
});

describe("its node was away while the float turned dry, long before the clock opens its valve", () => {
  const awayS = 8 * 2 * hourS + 3000;
  const draw = (atS: number) => {
    if (atS < 8 * 2 * hourS) return usual(atS);
    return atS >= awayS + 60 && atS < awayS + 180 ? 11.5 : 0;
  };
  const { fills, calls } = lived({
    draw,
    isSilent: (atS) => atS >= awayS && atS < awayS + 240,
    toS: 9.5 * 2 * hourS,
  });
  it("its level saw all that came: it contradicts nothing", () => {
    expect(fills.at(-1)).toMatchObject({ end: "float-tripped", tripConfirmed: true });
    expect(calls.filter((call) => !call.startsWith("node-silent"))).toEqual([]);
  });
});

describe("the float turns dry in the last minute before the clock shuts the valve", () => {
  const openedS = 8 * 2 * hourS;
  const draw = (atS: number) => {
    if (atS < openedS) return usual(atS);
    return atS >= openedS + 1640 && atS < openedS + 1760 ? 11 : 0;
  };
  const { fills, truth } = lived({ draw, toS: 9.5 * 2 * hourS });
  it("what comes at the next opening is watched from its begin: what it stood lower by an hour ago is no slow rise", () => {
    const [begun, rest] = truth.slice(-2) as [(typeof truth)[number], (typeof truth)[number]];
    expect(begun.litres).toBeLessThan(4);
    expect(rest.startS).toBe(openedS + 2 * hourS);
    const last = fills.at(-1) as Fill;
    expect(last).toMatchObject({ end: "float-tripped", tripConfirmed: true });
    expect(last.watched).toBeGreaterThan(0.95);
  });
});
