import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { FloatAsks } from "../../../gateway/src/app/requests/float-asks.ts";

const beginMs = 1_800_000_000_000;
beforeEach(() => {
  vi.useFakeTimers({ now: beginMs });
});
afterEach(() => {
  vi.useRealTimers();
});

function house(
  periodMs: number | null = 60_000,
  outcome: "done" | "asked-already" = "done",
  understands = true,
) {
  const askedMs: number[] = [];
  const asks = new FloatAsks({
    engineMs: Date.now,
    node: () => ({ understands, periodMs }),
    async ask() {
      askedMs.push(Date.now() - beginMs);
      return { outcome };
    },
  });
  const edge = (tMs: number | null) =>
    asks.take({ kind: "float-edge", float: "mix.stop", channel: "drums/stop", tMs });
  return { asks, askedMs, edge };
}

it("a node is asked 3.1 s after a first reading, and not again once its second one was taken", async () => {
  const { askedMs, edge } = house();
  edge(beginMs);
  await vi.advanceTimersByTimeAsync(3150);
  edge(null);
  await vi.advanceTimersByTimeAsync(60_000);
  expect(askedMs).toEqual([3100]);
});

it("what does not come is asked for a few times, and no longer", async () => {
  const { askedMs, edge } = house();
  edge(beginMs);
  await vi.advanceTimersByTimeAsync(600_000);
  expect(askedMs).toEqual([3100, 6100, 9100, 12_100]);
});

it("a node that was asked for something else just now is asked a second later", async () => {
  const { askedMs, edge } = house(60_000, "asked-already");
  edge(beginMs);
  await vi.advanceTimersByTimeAsync(4500);
  expect(askedMs).toEqual([3100, 4100]);
});

it("an edge that swings back before it is asked for, or whose gateway stops, is not asked for", async () => {
  const { asks, askedMs, edge } = house();
  edge(beginMs);
  await vi.advanceTimersByTimeAsync(2000);
  edge(null);
  edge(Date.now());
  asks.stop();
  await vi.advanceTimersByTimeAsync(60_000);
  expect(askedMs).toEqual([]);
});

it("a reading that was 10 s under way is asked for at once", async () => {
  const { askedMs, edge } = house();
  edge(beginMs - 10_000);
  await vi.advanceTimersByTimeAsync(1);
  expect(askedMs).toEqual([0]);
});

it.each([
  ["a node that does not say that it understands it", house.bind(null, 60_000, "done", false), 0],
  ["a node that sends each 5 s by itself", house.bind(null, 5000), 0],
  ["what was made a minute ago: a backlog, or the journal run again", house, 60_000],
])("nothing is asked of %s", async (_, live, agoMs) => {
  const { askedMs, edge } = live();
  edge(beginMs - agoMs);
  await vi.advanceTimersByTimeAsync(60_000);
  expect(askedMs).toEqual([]);
});
