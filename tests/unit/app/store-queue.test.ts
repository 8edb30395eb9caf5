import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { StoreQueue } from "../../../gateway/src/app/store-queue.ts";

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

it("a logbook that takes nothing is tried again once a second, however often it failed, until the end", () => {
  let isFull = true;
  let tries = 0;
  const taken: unknown[] = [];
  const queue = new StoreQueue({
    logbook: {
      record(notes: readonly unknown[]) {
        tries += 1;
        if (isFull) throw new Error("disk full");
        taken.push(...notes);
      },
    } as never,
    onFailure: () => {},
    takenSeq: () => 7,
  });
  queue.addNote({ kind: "note" } as never);
  for (let times = 0; times < 5; times += 1) expect(queue.store()).toBe(false);
  expect(tries).toBe(5);
  vi.advanceTimersByTime(3000);
  expect(tries).toBe(8);
  isFull = false;
  vi.advanceTimersByTime(1000);
  expect(taken).toHaveLength(1);
  isFull = true;
  queue.addNote({ kind: "note" } as never);
  queue.store();
  queue.end();
  tries = 0;
  vi.advanceTimersByTime(10_000);
  expect(tries).toBe(0);
});
