import { expect, it } from "vitest";
import { PieceSize } from "../../../gateway/src/series/influx/piece-size.ts";

it("begins with as many lines as may be, and stays there while answers are quick", () => {
  const size = new PieceSize(5000, 10_000);
  expect(size.lines).toBe(5000);
  size.answered(5000, 40);
  expect(size.lines).toBe(5000);
});

it("one that is late makes the next a quarter, never under 50; quick ones double it up to the most", () => {
  const size = new PieceSize(5000, 10_000);
  // Two were under way, and both are late: of lines as they were, not a quarter of a quarter.
  size.late(5000);
  size.late(5000);
  expect(size.lines).toBe(1250);
  for (const lines of [1250, 312, 78, 50]) size.late(lines);
  expect(size.lines).toBe(50);
  size.answered(50, 100);
  expect(size.lines).toBe(100);
  for (let times = 0; times < 10; times += 1) size.answered(size.lines, 100);
  expect(size.lines).toBe(5000);
});

it("one that takes over a quarter of its time makes the next as long as fits in it; a short last one makes none longer", () => {
  const size = new PieceSize(5000, 10_000);
  size.answered(5000, 5000);
  expect(size.lines).toBe(2500);
  size.answered(2500, 2000);
  expect(size.lines).toBe(2500);
  size.answered(10, 1);
  expect(size.lines).toBe(2500);
});

it.each([20_000, 50_000, 300_000])(
  "on a way of %d bytes a second it finds lines that are answered in time, and more of them once it is quick",
  (bytes) => {
    const size = new PieceSize(5000, 10_000);
    const lineBytes = 67;
    let late = 0;
    for (let pieces = 0; pieces < 20; pieces += 1) {
      const { lines } = size;
      const ms = (1000 * 2 * lines * lineBytes) / bytes;
      if (ms > 10_000) {
        size.late(lines);
        late += 1;
      } else size.answered(lines, ms);
    }
    expect(late).toBeLessThan(3);
    expect((1000 * 2 * size.lines * lineBytes) / bytes).toBeLessThan(2501);
    expect((1000 * 2 * size.lines * lineBytes) / bytes).toBeGreaterThan(1000);
  },
);
