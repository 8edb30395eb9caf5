import { describe, expect, it } from "vitest";
import { framesLeft, type Task } from "../../bench/thread-frames.ts";

/** A second in which something small happens at each of 60 turns, and the given tasks besides. */
const second = (...tasks: Task[]) =>
  [...Array.from({ length: 61 }, (_, at) => ({ atMs: (at * 1000) / 60 + 1, cpuMs: 0 })), ...tasks].sort(
    (a, b) => a.atMs - b.atMs,
  );

describe("frames that a thread has time for", () => {
  it("all where it has nothing to do, or is done before the display's next turn", () => {
    expect(framesLeft(second(), 4)).toBe(60);
    expect(framesLeft(second({ atMs: 102, cpuMs: 3.5 }), 4)).toBe(60);
  });
  it("fewer by each turn that finds it at work, by its slower clock", () => {
    // 100 ms from 102 ms on: the turns at 117.7, 134.3 … 201.
    expect(framesLeft(second({ atMs: 102, cpuMs: 25 }), 4)).toBe(54);
    expect(framesLeft(second({ atMs: 102, cpuMs: 25 }), 1)).toBe(59);
  });
  it("tasks that come while it works wait their turn", () => {
    const four = [102, 103, 104, 105].map((atMs) => ({ atMs, cpuMs: 6.25 }));
    expect(framesLeft(second(...four), 4)).toBe(54);
  });
});
