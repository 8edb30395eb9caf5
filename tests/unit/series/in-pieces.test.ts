import fc from "fast-check";
import { expect, it } from "vitest";
import { inPieces } from "../../../gateway/src/series/influx/in-pieces.ts";

/** A server that answers in any order, and refuses some pieces. */
function server(turns: readonly number[], refused: ReadonlySet<number>) {
  const asked: (readonly [number, number])[] = [];
  const open = new Map<number, () => void>();
  let most = 0;
  let isOver = false;
  return {
    asked,
    most: () => most,
    isIdle: () => open.size === 0,
    write(from: number, to: number): Promise<string> {
      if (isOver) throw new Error("asked after it was over");
      asked.push([from, to]);
      const { promise, resolve, reject } = Promise.withResolvers<string>();
      open.set(from, () => {
        open.delete(from);
        if (refused.has(from)) reject(new Error(`refused ${from}`));
        else resolve(`${from}-${to}`);
      });
      most = Math.max(most, open.size);
      return promise;
    },
    /** Answers one request after the other, chosen by `turns`, until none is open. */
    async answerAll() {
      for (let turn = 0; open.size > 0; turn += 1) {
        const all = [...open.values()];
        all[(turns[turn % turns.length] ?? 0) % all.length]?.();
        for (let rest = 0; rest < 20; rest += 1) await Promise.resolve();
      }
      isOver = true;
    },
  };
}

const runs = fc.record({
  from: fc.nat(20),
  size: fc.nat(60),
  atOnce: fc.integer({ min: 1, max: 9 }),
  turns: fc.array(fc.nat(5), { minLength: 1, maxLength: 9 }),
  bad: fc.array(fc.nat(8), { maxLength: 3 }),
});

it("writes each item once, two pieces under way at most; before the first that was refused all is there", async () => {
  await fc.assert(
    fc.asyncProperty(runs, async ({ from, size, atOnce, turns, bad }) => {
      const refused = new Set(bad.map((piece) => from + piece * atOnce));
      const there = server(turns, refused);
      let wasIdleAtTheEnd = false;
      const [result] = await Promise.all([
        inPieces({ from, size, atOnce: () => atOnce, goesOn: () => true }, there.write).then((given) => {
          wasIdleAtTheEnd = there.isIdle();
          return given;
        }),
        there.answerAll(),
      ]);
      expect(wasIdleAtTheEnd).toBe(true);
      expect(there.most()).toBeLessThanOrEqual(2);
      const pieces: [number, number][] = [];
      for (let at = from; at < size; at += atOnce) pieces.push([at, Math.min(size, at + atOnce)]);
      expect(there.asked).toEqual(pieces.slice(0, there.asked.length));
      const first = pieces.findIndex(([at]) => refused.has(at));
      const good = first < 0 ? pieces : pieces.slice(0, first);
      expect(result.done).toEqual(good.map(([begin, end]) => `${begin}-${end}`));
      expect(result.written).toBe(good.at(-1)?.[1] ?? from);
      expect(result.failure === null).toBe(first < 0);
      if (first >= 0) expect(String(result.failure?.thrown)).toContain(`refused ${pieces[first]?.[0]}`);
    }),
    { numRuns: 500, seed: 3 },
  );
});
