import { conditionRows } from "@drumlin/gateway/alarms";
import { expect, it } from "vitest";
import { conditionsTable, readReadme, withTable } from "../../tooling/conditions-table.ts";

it("the README's table of conditions is that of the rows: else run node tests/tooling/conditions-table.ts", () => {
  // The formatter pads columns.
  const plain = (text: string) => text.replace(/ {2,}/g, " ").replace(/-{3,}/g, "---");
  expect(plain(readReadme())).toBe(plain(withTable(readReadme())));
});

it("names every condition, and what may be set is described", () => {
  for (const { id } of conditionRows) expect(conditionsTable()).toContain(`\`${id}\``);
  expect(conditionsTable()).not.toContain("()");
});

it("a README without marks is refused", () => {
  expect(() => withTable("nothing")).toThrow(/no marks/);
});
