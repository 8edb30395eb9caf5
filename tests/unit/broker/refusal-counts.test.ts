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

it("counts go on after a restart; what the disk did not take is kept with the next turn", () => {
  const before = createRefusalCounts(() => 7);
  before.note("frame-broken", null, "once");
  before.note("topic-not-yours", "press", "twice");
  const full = () =>
    before.keep(() => {
      throw new Error("full");
    });
  expect(full).toThrow("full");
  const kept: string[] = [];
  const after = createRefusalCounts(() => 9);
  before.keep((changed) => {
    kept.push(...changed.map(({ code }) => code));
    after.begin(changed);
  });
  before.note("frame-broken", null, "again");
  before.keep((changed) => kept.push(...changed.map(({ code, count }) => `${code} ${count}`)));
  before.keep(() => kept.push("nothing has changed"));
  expect(kept).toEqual(["frame-broken", "topic-not-yours", "frame-broken 2"]);
  after.note("topic-not-yours", "press", "thrice");
  expect(after.values()).toMatchObject([
    { code: "frame-broken", node: null, count: 1, lastAtMs: 7 },
    {
      code: "topic-not-yours",
      node: "press",
      count: 2,
      lastAtMs: 9,
      examples: [{ detail: "thrice" }, { detail: "twice" }],
    },
  ]);
});
