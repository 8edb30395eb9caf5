import { unitMeaning } from "@drumlin/firmware-protocol";
import { inOwnUnit, kindOf, quantityUnits, type Signal, signals } from "@drumlin/gateway/line";
import { dimensionUnits, unitOf } from "@drumlin/gateway/quantities";
import { describe, expect, it } from "vitest";
import { createProbeBench } from "../measurements/probe-bench.ts";
import table from "./values/wire-units.json" with { type: "json" };

const names = Object.keys(signals) as Signal[];

describe("the table of signals", () => {
  it.each(table.rows)("$value $senml of $signal is $own $unit", ({ signal, senml, value, own, unit }) => {
    expect(inOwnUnit(signal as Signal, value, senml)).toBeCloseTo(own, 9);
    expect(kindOf(signal as Signal).unit).toBe(unit);
  });

  it("has a published value for each of its wire units, and each is a primary unit of RFC 8428", () => {
    const units = names.flatMap((name) => kindOf(name).wire.map(({ senml }) => `${name} ${senml}`));
    expect(units.sort()).toEqual(table.rows.map(({ signal, senml }) => `${signal} ${senml}`).sort());
    for (const { senml } of table.rows)
      expect(unitMeaning(senml, 10)).toMatchObject({ ok: true, unit: senml, scale: 1, offset: 0 });
  });

  it.each(names)("%s: no unit is the own unit, a strange one is none", (name) => {
    const { unit } = kindOf(name);
    expect(inOwnUnit(name, 1, null)).toBe(1);
    if (unit !== null) expect(inOwnUnit(name, 1, "lx")).toBeNull();
  });

  it("a contact is 0 or 1, in whatever unit", () => {
    expect(inOwnUnit("contact", 1, "V")).toBe(1);
    expect(inOwnUnit("contact", 0.5, null)).toBeNull();
    expect(inOwnUnit("contact", 2, null)).toBeNull();
  });

  it.each(names)("%s: its own unit is one of its dimension, its range is a span", (name) => {
    const { unit, dimension, range } = kindOf(name);
    if (unit === null || dimension === null) expect([unit, dimension]).toEqual([null, null]);
    else {
      expect(unitOf(unit, dimension)).toBeDefined();
      expect(unitOf(dimensionUnits[dimension], dimension)).toBeDefined();
    }
    expect(range.min).toBeLessThan(range.max);
    expect(range.source).not.toBe("");
  });
});

describe("what a signal gives", () => {
  const bench = createProbeBench();
  // A warm, salt water for every temperature, so that salinity is told where it can be.
  const values = { conductivity: 30_000, temperature: 20, contact: 1, level: 0.5, pressure: 0.05 } as const;
  const channels = [...bench.line.channels.values()];

  it("is what comes of its readings, in this order, and nothing that the table doesn't name", () => {
    for (const { channel, signal, at25 } of channels) {
      const { gives, mayGive } = kindOf(signal);
      const said = (values as Partial<Record<Signal, number>>)[signal] ?? 1;
      const came = bench.read(channel, null, said, 1).map((outcome) => {
        if (outcome.kind !== "measurement") throw new Error(`${channel} is not assigned`);
        return outcome.quantity;
      });
      const always = at25 ? ["conductivity25"] : [...gives];
      expect(came.slice(0, always.length), channel).toEqual(always);
      for (const quantity of came.slice(always.length)) expect(mayGive, channel).toContain(quantity);
      for (const quantity of came) expect(quantityUnits).toHaveProperty(quantity);
    }
  });

  it("is missing, quantity by quantity, where the value can't be one", () => {
    for (const { channel, signal, at25 } of channels) {
      const came = bench
        .read(channel, "lx", Number.NaN, 2)
        .map((outcome) => outcome as { quantity?: string });
      const always: readonly string[] = at25 ? ["conductivity25"] : kindOf(signal).gives;
      expect(came.map(({ quantity }) => quantity).filter((quantity) => quantity !== "volume")).toEqual(
        always.filter((quantity) => quantity !== "volume"),
      );
      for (const outcome of came) expect(outcome).toMatchObject({ value: null, flag: 9 });
    }
  });
});
