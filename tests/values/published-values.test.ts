import { formulas } from "@drumlin/gateway/water";
import { describe, expect, it } from "vitest";
import { checkedValues, formulasWithoutRow } from "./read-value-tables.ts";

const values = checkedValues();

describe("values from outside", () => {
  const groups = Map.groupBy(values, (value) => `${value.formula} gives ${value.output} of ${value.source}`);
  it.each([...groups])("%s", (_name, group) => {
    for (const value of group) {
      const told = `${value.file} ${JSON.stringify(value.inputs)}: expected ${JSON.stringify(value.expected)}, got ${JSON.stringify(value.got)} ${value.problem ?? ""}`;
      expect(value.share, told).toBeLessThanOrEqual(1);
    }
  });
  it("hold every formula: none is without a value that somebody else gave", () => {
    expect(formulasWithoutRow(values)).toEqual([]);
    expect(formulasWithoutRow(values.filter(({ formula }) => formula !== "natural-25"))).toEqual([
      "natural-25",
    ]);
  });
  it("every formula that tables can reach is named once and has a source and a range or a word on where it holds", () => {
    expect(new Set(formulas.map((formula) => formula.id)).size).toBe(formulas.length);
    for (const formula of formulas) {
      expect(formula.source.length, formula.id).toBeGreaterThan(5);
      expect(formula.holds.length, formula.id).toBeGreaterThan(5);
    }
  });
});
