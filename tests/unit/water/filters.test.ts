import {
  carbonLifeL,
  compute,
  concentrationFactor,
  contactTimeMin,
  dropAtFlowKPa,
  judgeCarbon,
  meanFeedFactor,
  membraneTemperatureFactor,
  netDrivingPressureKPa,
  normalizedFlow,
  normalizedPassage,
  recoveryOf,
  rejectionOf,
} from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const recovery = fc.double({ min: 0.01, max: 0.95, noNaN: true });
const state = {
  feedKPa: 500,
  dropKPa: 20,
  permeateKPa: 10,
  osmoticFeedKPa: 30,
  osmoticPermeateKPa: 1,
  tC: 25,
};

function chlorineCriteriaOf(water: "fresh" | "salt"): number {
  const computed = compute("chlorine-criteria", { water });
  if (!computed.ok) throw new Error(computed.message);
  return computed.values.chronic as number;
}

describe("membrane", () => {
  it("the mean lies between feed and reject, and both rise with recovery", () => {
    fc.assert(
      fc.property(recovery, (share) => {
        const [mean, reject] = [meanFeedFactor(share), concentrationFactor(share)];
        return mean > 1 && mean < reject && meanFeedFactor(share + 0.01) > mean;
      }),
    );
    expect(concentrationFactor(0.75)).toBe(4);
    expect(meanFeedFactor(0.5)).toBeCloseTo(1.3863, 4);
  });
  it("what goes in comes out: feed is permeate and reject together", () => {
    fc.assert(
      fc.property(recovery, fc.double({ min: 0, max: 1, noNaN: true }), (share, rejection) => {
        const out = share * (1 - rejection) + (1 - share) * concentrationFactor(share, rejection);
        return Math.abs(out - 1) < 1e-12;
      }),
    );
  });
  it("against the mean the rejection is the better, and swapped probes show as below nought", () => {
    expect(rejectionOf(400, 20)).toBeCloseTo(0.95, 12);
    expect(rejectionOf(400, 20, 0.25)).toBeGreaterThan(0.95);
    expect(rejectionOf(20, 400)).toBeLessThan(0);
    expect(compute("membrane-rejection", { feed: 20, permeate: 400 })).toMatchObject({
      values: { plausible: false },
    });
    expect(compute("membrane-rejection", { feed: 400, permeate: 20 })).toMatchObject({
      values: { plausible: true },
    });
    expect(() => rejectionOf(0, 20)).toThrow("from 0.1 to 1000000 uS/cm");
    expect(() => recoveryOf(0, 0)).toThrow("no recovery");
  });
  it("a membrane in the standard state has its own flow; a colder or less pressed one has more in it", () => {
    expect(normalizedFlow(2, state, state)).toBe(2);
    expect(normalizedFlow(2, { ...state, tC: 10 }, state)).toBeCloseTo(2 / membraneTemperatureFactor(10), 12);
    expect(normalizedFlow(2, { ...state, feedKPa: 400 }, state)).toBeCloseTo((2 * 451) / 351, 12);
    expect(() => netDrivingPressureKPa({ ...state, feedKPa: 10 })).toThrow("Nothing drives water");
  });
  it("flow rises with temperature, and to a standard state and back is where it began", () => {
    const tC = fc.double({ min: 1, max: 44, noNaN: true });
    fc.assert(
      fc.property(tC, tC, (one, other) => {
        const [a, b] = [
          { ...state, tC: one },
          { ...state, tC: other, feedKPa: 420 },
        ];
        const back = normalizedFlow(normalizedFlow(2, a, b), b, a);
        return (
          Math.abs(back / 2 - 1) < 1e-12 &&
          membraneTemperatureFactor(one + 0.5) > membraneTemperatureFactor(one)
        );
      }),
    );
  });
  it("salt passage at a lower flow is less in the standard state", () => {
    const standard = { permeateLPerMin: 2, tC: 25, feed: 400, meanFeed: 460 };
    expect(normalizedPassage(0.05, standard, standard)).toBe(0.05);
    expect(normalizedPassage(0.05, { ...standard, permeateLPerMin: 1 }, standard)).toBeCloseTo(0.025, 12);
    expect(normalizedPassage(0.05, { ...standard, feed: 800, meanFeed: 920 }, standard)).toBeCloseTo(
      0.05,
      12,
    );
    expect(() => normalizedPassage(2, standard, standard)).toThrow("from 0 to 1");
  });
  it("one membrane has one passage in the standard state, whatever its recovery was: salt goes by the mean", () => {
    // A membrane of one permeability for salt: permeate = B × factor × mean / flow.
    const passageOf = (flow: number, tC: number, feed: number, share: number) => {
      const meanFeed = feed * meanFeedFactor(share);
      const state = { permeateLPerMin: flow, tC, feed, meanFeed };
      return { state, passage: (0.02 * membraneTemperatureFactor(tC) * meanFeed) / flow / feed };
    };
    const flow = fc.double({ min: 0.5, max: 2, noNaN: true });
    const feed = fc.double({ min: 100, max: 2000, noNaN: true });
    const tC = fc.double({ min: 5, max: 35, noNaN: true });
    const standard = passageOf(1, 25, 400, 0.25);
    fc.assert(
      fc.property(
        flow,
        tC,
        feed,
        fc.double({ min: 0.05, max: 0.8, noNaN: true }),
        (at, warm, salt, share) => {
          const { state, passage } = passageOf(at, warm, salt, share);
          fc.pre(passage <= 1);
          return Math.abs(normalizedPassage(passage, state, standard.state) / standard.passage - 1) < 1e-9;
        },
      ),
    );
  });
  it("a maker's temperature factor goes before our own", () => {
    const cold = { ...state, tC: 10 };
    const given = { ...cold, temperatureFactor: 0.62 };
    expect(normalizedFlow(2, given, { ...state, temperatureFactor: 1 })).toBeCloseTo(2 / 0.62, 12);
    expect(() => normalizedFlow(2, { ...cold, temperatureFactor: 0 }, state)).toThrow("temperature factor");
  });
});

describe("carbon", () => {
  const total = (mgPerL: number, stepMgPerL: number, water: "fresh" | "salt" = "fresh") =>
    judgeCarbon({ supply: "chloramine", measured: "total", mgPerL, stepMgPerL }, water);
  it("what a test can't see is never good: its step must fit under the criterion", () => {
    expect(total(0, 0.5)).toMatchObject({ verdict: "can't-tell", mostMgPerL: 0.5 });
    expect(total(0, 0.02)).toMatchObject({ verdict: "can't-tell", mostMgPerL: 0.02, limitMgPerL: 0.011 });
    expect(total(0, 0.01)).toMatchObject({ verdict: "good", mostMgPerL: 0.01 });
    expect(total(0, 0.01, "salt")).toMatchObject({ verdict: "can't-tell", limitMgPerL: 0.0075 });
    expect(total(0.008, 0.005)).toMatchObject({ verdict: "can't-tell" });
  });
  it("0.1 mg/L, a limit for people on dialysis, is nine times what fish bear", () => {
    expect(total(0.1, 0.01)).toMatchObject({ verdict: "spent", aboveAcute: true });
    expect(total(0.015, 0.001)).toMatchObject({ verdict: "spent", aboveAcute: false });
    expect(() =>
      judgeCarbon({ supply: "chloramine", measured: "total", mgPerL: 0, stepMgPerL: 0.01 }, "fresh", 0.1),
    ).toThrow("limit is 0.1 mg/L; it must be from 0.0005 to 0.011 mg/L. A laxer limit");
  });
  it("a free-chlorine test condemns, and never acquits", () => {
    const free = (supply: "chloramine" | "free-chlorine", mgPerL: number) =>
      judgeCarbon({ supply, measured: "free", mgPerL, stepMgPerL: 0.001 }, "fresh").verdict;
    expect(free("chloramine", 0)).toBe("says-nothing");
    expect(free("free-chlorine", 0)).toBe("can't-tell");
    expect(free("chloramine", 1)).toBe("spent");
  });
  it("good is never said where the water could be above the criterion", () => {
    const amount = fc.double({ min: 0, max: 0.1, noNaN: true });
    const step = fc.double({ min: 0.0005, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(amount, step, fc.constantFrom("fresh" as const, "salt" as const), (real, least, water) => {
        const shown = Math.floor(real / least) * least;
        const found = total(shown, least, water);
        return found.verdict !== "good" || real <= chlorineCriteriaOf(water);
      }),
    );
    expect(() => total(-1, 0.1)).toThrow("from 0 to 100 mg/L");
  });
  it("life is what it can hold over what it takes out", () => {
    expect(carbonLifeL(100, 2)).toBe(50_000);
    expect(() => carbonLifeL(100, 2, 2)).toThrow("chlorine after the carbon");
    expect(contactTimeMin(20, 2)).toBe(10);
    expect(() => contactTimeMin(20, 0)).toThrow("flow is 0 L/min");
  });
});

describe("sediment", () => {
  it("the same filter at half the flow has the same drop at its reference flow", () => {
    expect(dropAtFlowKPa(20, 4, 4)).toBe(20);
    expect(dropAtFlowKPa(10, 2, 4)).toBe(20);
    expect(dropAtFlowKPa(5, 2, 4, 2)).toBe(20);
    expect(() => dropAtFlowKPa(5, 0, 4)).toThrow("flow is 0 L/min");
  });
});
