import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { Retries } from "../../../gateway/src/broker/retries.ts";

beforeEach(() => {
  vi.useFakeTimers();
  // Half of the spread: each wait is its average.
  vi.spyOn(Math, "random").mockReturnValue(0.5);
});
afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
});

/** A broker that lets it in each time, and lets it stand for so long; gives the waits between, ms. */
async function waits(retries: Retries, stoodMs: readonly number[]): Promise<readonly number[]> {
  const waited: number[] = [];
  for (const ms of stoodMs) {
    retries.opened();
    await vi.advanceTimersByTimeAsync(ms);
    const endedMs = Date.now();
    const again = Promise.withResolvers<void>();
    retries.later(() => again.resolve());
    await vi.advanceTimersToNextTimerAsync();
    await again.promise;
    waited.push(Date.now() - endedMs);
  }
  return waited;
}

it("a broker that lets it in and cuts it off again is asked ever more seldom, to half a minute", async () => {
  const always = [0, 2000, 2000, 5000, 10_000, 20_000, 29_000, 1000, 0];
  expect(await waits(new Retries(), always)).toEqual([
    500, 1000, 2000, 4000, 8000, 16_000, 30_000, 30_000, 30_000,
  ]);
});
it("after a connection that stood for half a minute it comes again at once", async () => {
  expect(await waits(new Retries(), [1000, 1000, 1000, 30_000, 1000])).toEqual([500, 1000, 2000, 500, 1000]);
});
it("no wait is the same: from half to one and a half of it", async () => {
  const random = vi.spyOn(Math, "random");
  random.mockReturnValue(0);
  expect(await waits(new Retries(), [0])).toEqual([250]);
  random.mockReturnValue(1);
  expect(await waits(new Retries(), [0])).toEqual([750]);
});
it("nothing comes once it is stopped, and nothing is left that keeps the process", async () => {
  const retries = new Retries();
  const come = vi.fn();
  retries.opened();
  retries.later(come);
  retries.stop();
  retries.later(come);
  expect(vi.getTimerCount()).toBe(0);
  expect(come).not.toHaveBeenCalled();
});
