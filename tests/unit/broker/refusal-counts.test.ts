import { createRefusalCounts } from "@drumlin/gateway/broker";
import { expect, it } from "vitest";

it("700 nodes and more never end the counting, and never grow it", () => {
  const counts = createRefusalCounts(() => 7);
  for (let round = 0; round < 2; round += 1)
    for (let index = 0; index < 700; index += 1)
      counts.note("topic-not-yours", `n-${index}`, "x".repeat(900));
  counts.note("frame-broken", null, "the first of its kind, when the table is full");
  const rows = counts.values();
  expect(rows.length).toBeLessThan(510);
  const total = rows.reduce((sum, { count }) => sum + count, 0);
  expect(total).toBe(1401);
  expect(rows.filter(({ code }) => code === "frame-broken")).toMatchObject([{ count: 1, lastAtMs: 7 }]);
  expect(Math.max(...rows.flatMap(({ examples }) => examples.map(({ detail }) => detail.length)))).toBe(200);
});
