// What stands under what: power or network over its nodes, breakthrough over the drums behind it, a stop that has failed
// over what follows from it. A consequence listed nowhere calls for itself.
import { conditionRows } from "@drumlin/gateway/alarms";
import { describe, expect, it } from "vitest";

/** First-out, its consequences, and those for which one ring is for both. */
const groups: ReadonlyMap<string, readonly string[]> = new Map([
  ["broker-lost", ["node-silent", "site-silent"]],
  ["drum-not-stopping", ["drum-high-high (one ring)", "fill-long", "float-disagrees", "unplanned-inflow"]],
  ["float-stuck", ["fill-long", "float-disagrees"]],
  ["membrane-passing", ["drum-off-target"]],
  ["node-silent", ["watch-lost (one ring)"]],
  ["resin-breakthrough", ["drum-off-target", "removal-low"]],
  ["site-silent", ["node-silent"]],
]);

describe("grouping", () => {
  it.each(conditionRows.map((row) => [row.id, row] as const))(
    "%s stands over these and no others",
    (id, row) => {
      const under = (row.causes ?? []).map(
        ({ condition, isOneRing }) => `${condition}${isOneRing ? " (one ring)" : ""}`,
      );
      expect(under.sort()).toEqual(groups.get(id) ?? []);
    },
  );
});
