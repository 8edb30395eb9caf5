import { expect, it } from "vitest";
import { InfluxError } from "../../../gateway/src/series/influx/influx-outcome.ts";
import { SetAsides } from "../../../gateway/src/series/influx/set-aside.ts";
import { writePoints } from "../../../gateway/src/series/influx/write-points.ts";

const line = (at: number) => `flow,series=a v=${at} ${at}`;

/** A server that takes all lines but some, and answers a request that holds one of them as it is told. */
function server(bad: ReadonlySet<string>, answer: (lines: readonly string[]) => InfluxError) {
  const taken: string[] = [];
  const requests: number[] = [];
  return {
    taken,
    requests,
    async write(lines: readonly string[]) {
      requests.push(lines.length);
      if (lines.some((one) => bad.has(one))) throw answer(lines);
      taken.push(...lines);
    },
  };
}

it("a server that names a line that was not in the request is not believed: the bad one is found by halving", async () => {
  const lines = [1, 2, 3, 4, 5].map(line);
  const there = server(
    new Set([line(4)]),
    () => new InfluxError("influx-partial-write", "no", { refusedLines: [17] }),
  );
  const aside = new SetAsides();
  await writePoints(there, lines, aside);
  expect(there.taken.toSorted()).toEqual([1, 2, 3, 5].map(line));
  expect(aside.list()).toMatchObject([{ points: 1, example: line(4), fromMs: 4, toMs: 4 }]);
});

it("what only bad lines are left of is set aside at once where the server says how many it dropped", async () => {
  const lines = [1, 2, 3, 4].map(line);
  const there = server(
    new Set(lines),
    (asked) => new InfluxError("influx-outside-retention", "old", { dropped: asked.length }),
  );
  const aside = new SetAsides();
  await writePoints(there, lines, aside);
  expect([there.requests, aside.points]).toEqual([[4], 4]);
});
