import {
  carbonLifeL,
  carbonVerdict,
  concentrationFactor,
  contactTimeMin,
  dropAtFlowKPa,
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
});

describe("carbon", () => {
  it("a free-chlorine strip never passes a chloramine supply, a coarse one never passes any", () => {
    expect(carbonVerdict("chloramine", "free", 0, 0.01)).toBe("says-nothing");
    expect(carbonVerdict("chloramine", "free", 1, 0.5)).toBe("spent");
    expect(carbonVerdict("chloramine", "total", 0, 0.5)).toBe("says-nothing");
    expect(carbonVerdict("chloramine", "total", 0.05, 0.05)).toBe("good");
    expect(carbonVerdict("free-chlorine", "free", 0.05, 0.05)).toBe("good");
    expect(() => carbonVerdict("chloramine", "total", -1, 0.1)).toThrow("from 0 to 100 mg/L");
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
