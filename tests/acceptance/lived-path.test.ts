import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import { describe, expect, it } from "vitest";
import { beginMs } from "./line-bench.ts";
import { LivedPath } from "./lived-path.ts";
import { nodeSays, pressPack } from "./node-says.ts";
import { kits } from "./outside-plans.ts";

type Pipeline = ReturnType<typeof createPipeline>;
type Entry = Parameters<Pipeline["push"]>[0];

/** What is journaled of three hours with a tub that fills now and then; `turnsS`: from then on its water is another. */
function entriesOf(turnsS: number): Entry[] {
  const given: (readonly [atS: number, entry: object])[] = [
    [0, { kind: "start", version: "test", instance: "test" }],
    [0, { kind: "line", yaml: kits.both }],
    [60, { kind: "act", act: { id: "act-1", by: "keeper", type: "release", drum: "tub", reason: "dumped" } }],
  ];
  let litres = 165;
  let isWet = false;
  for (let atS = 61; atS < 3 * 3600; atS += 5) {
    if (litres >= 180) isWet = true;
    if (atS % 1500 < 5) litres -= 22;
    if (litres <= 160) isWet = false;
    const flowLPerMin = isWet ? 0 : 4;
    litres += flowLPerMin / 12;
    const kappa = atS >= turnsS ? 12.5 : 0.25;
    const tubs = [
      { boot: 1, seq: (atS - 1) / 5, up: atS, n: "stop-tub", vb: isWet },
      { n: "level-tub", u: "m3", v: Math.round(litres * 10) / 10_000 },
    ];
    given.push([atS, nodeSays("press", "readings", pressPack({ kappa, flowLPerMin }))]);
    given.push([atS + 2, nodeSays("tubs", "readings", tubs)]);
  }
  return given.map(([atS, entry], at) => ({
    seq: at + 1,
    receivedAt: beginMs + atS * 1000,
    ...entry,
  })) as Entry[];
}

/** What is told of them, and what the path holds then. */
function livedThrough(path: Pick<LivedPath, "push" | "pipeline">, entries: readonly Entry[]) {
  const told: Outcome[] = [];
  for (const entry of entries) path.push(entry, (outcome) => told.push(outcome));
  return { told, rows: rowsOf(path.pipeline()) };
}
const rowsOf = (pipeline: Pipeline) =>
  new Map(pipeline.snapshot().rows.map(([stage, key, plain]) => [`${stage} ${key}`, plain]));

function alone(entries: readonly Entry[]) {
  const pipeline = createPipeline();
  return livedThrough({ push: pipeline.push.bind(pipeline), pipeline: () => pipeline }, entries);
}

/** After a start the runs are told once more, whatever is new of them. */
function withoutRunsToldAgain(told: readonly Outcome[]): Outcome[] {
  const last = new Map<string, string>();
  return told.filter((outcome) => {
    if (outcome.kind !== "run") return true;
    const { atMs: _, ...state } = outcome;
    const isAgain = !outcome.flowing && last.get(outcome.point) === JSON.stringify(state);
    last.set(outcome.point, JSON.stringify(state));
    return !isAgain;
  });
}

describe("a life that begins as another did", () => {
  const never = Number.POSITIVE_INFINITY;

  it.each([
    ["within the begin", 5301],
    ["where the begin ends", 9901],
    ["never", never],
  ])("tells and holds what one does that lives all of it itself; it goes its own way %s", (_when, turnsS) => {
    livedThrough(new LivedPath(beginMs), entriesOf(never));
    const entries = entriesOf(turnsS);
    const own = alone(entries);
    const other = livedThrough(new LivedPath(beginMs), entries);
    expect(own.told.length).toBeGreaterThan(20_000);
    expect(withoutRunsToldAgain(other.told)).toEqual(withoutRunsToldAgain(own.told));
    expect(other.told.length - own.told.length).toBeLessThanOrEqual(2);
    expect(other.rows).toEqual(own.rows);
  });

  it("runs nothing of it while it goes the same way: what it is told is what the other was told", () => {
    const entries = entriesOf(never);
    livedThrough(new LivedPath(beginMs), entries);
    const begin = entries.filter(({ receivedAt }) => receivedAt < beginMs + 9900 * 1000);
    const [one, other] = [1, 2].map(() => {
      const told: Outcome[] = [];
      const path = new LivedPath(beginMs);
      for (const entry of begin) path.push(entry, (outcome) => told.push(outcome));
      return told;
    });
    expect(one?.length).toBeGreaterThan(20_000);
    expect(one?.every((outcome, at) => outcome === other?.[at])).toBe(true);
  });
});
