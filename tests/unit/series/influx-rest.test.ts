import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { Rest } from "../../../gateway/src/series/influx/rest.ts";

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

/** Says whether what is waited for is over, once all that is due has run. */
function watched(waited: Promise<void>) {
  let isOver = false;
  void waited.then(() => (isOver = true));
  return async (ms: number) => {
    await vi.advanceTimersByTimeAsync(ms);
    return isOver;
  };
}

it("a batch stored later ends the rest at once, and none at all ends it at its time", async () => {
  const rest = new Rest();
  const first = watched(rest.untilNew(1000));
  expect(await first(500)).toBe(false);
  rest.stored();
  expect(await first(0)).toBe(true);
  rest.looks();
  const second = watched(rest.untilNew(1000));
  expect(await second(999)).toBe(false);
  expect(await second(1)).toBe(true);
});

it("batches of the first 100 ms are looked for together, those stored while it looked too", async () => {
  const rest = new Rest();
  rest.looks();
  rest.stored();
  const over = watched(rest.untilNew(1000));
  expect(await over(99)).toBe(false);
  rest.stored();
  expect(await over(0)).toBe(false);
  expect(await over(1)).toBe(true);
});

it("what it saw when it looked ends no rest", async () => {
  const rest = new Rest();
  rest.stored();
  rest.looks();
  const over = watched(rest.untilNew(1000));
  expect(await over(999)).toBe(false);
});

it("who waits for the server is not woken by a batch, but by who stops it", async () => {
  const rest = new Rest();
  const over = watched(rest.wait(60_000));
  expect(await over(200)).toBe(false);
  rest.stored();
  expect(await over(0)).toBe(false);
  rest.wake();
  expect(await over(0)).toBe(true);
  const resting = watched(rest.untilNew(60_000));
  rest.wake();
  expect(await resting(0)).toBe(true);
});
