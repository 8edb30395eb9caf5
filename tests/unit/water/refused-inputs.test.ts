import { compute } from "@drumlin/gateway/water";
import { describe, expect, it } from "vitest";
import rows from "./values/refused-inputs.json" with { type: "json" };

// Inputs that must be refused, why (a published range or definition), and the refusal to its last word: a person reads it.
describe("inputs that are refused", () => {
  it("are sixty at least, each with its source", () => {
    expect(rows.length).toBeGreaterThanOrEqual(60);
    for (const { source } of rows) expect(source.length).toBeGreaterThan(15);
    expect(new Set(rows.map((row) => JSON.stringify([row.formula, row.given]))).size).toBe(rows.length);
  });
  it.each(rows.map((row) => [row.formula, JSON.stringify(row.given), row] as const))(
    "%s %s",
    (formula, _given, { given, code, message }) => {
      expect(compute(formula, given as Readonly<Record<string, unknown>>)).toEqual({
        ok: false,
        code,
        message,
      });
    },
  );
});
