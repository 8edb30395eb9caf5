import { describe, expect, it } from "vitest";
import { dependencyFaults, dependencyReport } from "../../tooling/dependencies.ts";

const good = { version: "1.2.3", license: "MIT", integrity: "sha512-x" };
const list = "| `good` | 1.2.3 | MIT | 2026-01-01 | why |\n";
const lockOf = (one: object, wanted = "1.2.3") => ({
  "": { dependencies: { good: wanted, "@drumlin/gateway": "0.1.0" } },
  "node_modules/good": { ...good, ...one },
});

describe("dependencies", () => {
  it("of this checkout are all listed, exact, summed and under a licence of the list", () => {
    const { packages, faults } = dependencyReport();
    expect(faults).toEqual([]);
    expect(packages).toBeGreaterThan(100);
  });

  it.each([
    ["nothing wrong", lockOf({}), list, null],
    ["a range", lockOf({}, "^1.2.3"), list, "no exact version"],
    ["no sum", lockOf({ integrity: undefined }), list, "no sum"],
    ["a licence that asks for more", lockOf({ license: "AGPL-3.0-only" }), list, "AGPL-3.0-only"],
    ["no licence", lockOf({ license: undefined }), list, "no licence"],
    ["a tool's licence on what is shipped", lockOf({ license: "MPL-2.0" }), list, "MPL-2.0"],
    [
      "one of two licences",
      lockOf({ license: "(MIT OR GPL-2.0)" }),
      list.replace("MIT", "(MIT OR GPL-2.0)"),
      null,
    ],
    ["another version in the list", lockOf({}), list.replace("1.2.3", "1.2.2"), "should list `good` 1.2.3"],
    ["not listed", lockOf({}), "", "should list `good`"],
    [
      "listed for nothing",
      lockOf({}),
      `${list}| \`gone\` | 1.0.0 | MIT | 2026-01-01 | why |\n`,
      "lists gone",
    ],
  ])("%s", (_what, packages, text, fault) => {
    const faults = dependencyFaults(packages, text);
    if (fault === null) expect(faults).toEqual([]);
    else expect(faults.join()).toContain(fault);
  });
});
