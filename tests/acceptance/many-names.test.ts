import { nodeCell } from "@drumlin/gateway/readings";
import { expect, it } from "vitest";
import { createLineBench } from "./line-bench.ts";

const maxNodes = 1000;

it("20,000 names that announce themselves on somebody else's broker: 1,000 are followed, the rest is refused by name", () => {
  const bench = createLineBench();
  const before = bench.snapshot().length;
  for (let n = 0; n < 20_000; n += 1)
    bench.presence(`x${n}`, { state: "online", boot: 1, protocol: 1, period_s: 5, channels: [] }, 100);
  const { rows } = bench.saved();
  expect(
    rows.filter(([stage, key]) => stage === "board" && key.startsWith(`${nodeCell.name} `)),
  ).toHaveLength(maxNodes);
  // A node takes about 0.5 kB of the checkpoint.
  expect(bench.snapshot().length - before).toBeLessThan(maxNodes * 700);
  const refused = bench.outcomes.filter((outcome) => outcome.kind === "rejection");
  expect(refused).toHaveLength(20_000 - maxNodes);
  expect(refused.at(-1)).toMatchObject({ code: "nodes-too-many", node: "x19999" });
  // One that is followed is heard on.
  bench.presence("x5", { state: "offline" }, 101);
  expect(bench.outcomes.findLast((outcome) => outcome.kind === "presence")).toMatchObject({
    node: "x5",
    online: false,
  });
});
