import { conditionRows, describeConditions } from "@drumlin/gateway/alarms";
import { expect, it } from "vitest";
import { conditionLists, listAsItIs } from "../../tooling/condition-lists.ts";
import { conditionsTable, readReadme, withTable } from "../../tooling/conditions-table.ts";

const conditions = describeConditions();

it("the README's table of conditions is that of the rows: else run node tests/tooling/conditions-table.ts", () => {
  expect(readReadme()).toBe(withTable(readReadme(), conditions));
});

it("names every condition, and what may be set is described", () => {
  for (const { id } of conditionRows) expect(conditionsTable(conditions)).toContain(`\`${id}\``);
  expect(conditionsTable(conditions)).not.toContain("()");
});

it("a README without marks is refused", () => {
  expect(() => withTable("nothing", conditions)).toThrow(/no marks/);
});

it.each([...conditionLists()])(
  "%s is that of the folder: else run node tests/tooling/conditions-table.ts",
  (path, text) => {
    expect(listAsItIs(path)).toBe(text);
  },
);
