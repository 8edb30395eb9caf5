import { expect, it } from "vitest";
import { CheckpointCopy, mergedChanges } from "../../../gateway/src/journal/checkpoint-copy.ts";

const row = (key: string, plain: unknown) => ({ stage: "a", key, plain });

it("copies up to 800 rows or 256 kB a turn, each as it was then, and all of them in the end", () => {
  const rows = Array.from({ length: 2000 }, (_, at) => row(String(at), at));
  const copy = new CheckpointCopy({ seq: 7, versions: { a: 1 }, rows });
  const turns: number[] = [];
  for (let isMore = true; isMore; turns.push(copy.rows.length)) isMore = copy.copySome();
  expect(turns).toEqual([800, 1600, 2000]);
  expect(copy.rows[1999]).toEqual({ stage: "a", key: "1999", stored: "1999" });
  expect(copy.bytes).toBe(10 + 90 * 2 + 900 * 3 + 1000 * 4);

  const large = Array.from({ length: 4 }, (_, at) => row(String(at), "x".repeat(200_000)));
  const slow = new CheckpointCopy({ seq: 8, versions: {}, rows: large });
  expect([slow.copySome(), slow.rows.length]).toEqual([true, 2]);
  expect(slow.copyAll().rows).toHaveLength(4);
  expect(slow.copySome()).toBe(false);
});

it("a turn that takes long is over, however few rows it copied; each goes on by some, and all are copied in the end", () => {
  const rows = Array.from({ length: 100 }, (_, at) => row(String(at), at));
  const copy = new CheckpointCopy({ seq: 7, versions: {}, rows });
  const turns: number[] = [];
  for (let isMore = true; isMore; turns.push(copy.rows.length)) isMore = copy.copySome(() => true);
  expect(turns).toEqual([16, 32, 48, 64, 80, 96, 100]);
  expect(copy.rows.map(({ key }) => key)).toEqual(rows.map(({ key }) => key));
});

it("put together, the last word on each row stands, with the last number", () => {
  const of = (seq: number, rows: ReturnType<typeof row>[]) =>
    new CheckpointCopy({ seq, versions: { a: seq }, rows }).copyAll();
  const merged = mergedChanges([
    of(1, [row("x", 1), row("y", 1)]),
    of(2, [row("y", undefined), row("z", 22)]),
  ]);
  expect(merged).toEqual({
    seq: 2,
    versions: { a: 2 },
    rows: [
      { stage: "a", key: "x", stored: "1" },
      { stage: "a", key: "y", stored: null },
      { stage: "a", key: "z", stored: "22" },
    ],
    bytes: 3,
  });
});
