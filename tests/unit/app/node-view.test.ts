import { createPipeline } from "@drumlin/gateway/app";
import type { NodeView } from "@drumlin/gateway/contract";
import { afterAll, beforeAll, expect, it } from "vitest";
import { createLiveState } from "../../../gateway/src/app/live-state.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 }, end: { flow: press/f-1 } }
stages: { membrane: { kind: membrane, from: supply, to: end, waste: press/f-2 } }
drums:
  fresh:
    { volume: 200 L, fed_by: end, stop: press/float, level: { channel: press/d-1, strapping: { 0 m: 0 L, 1 m: 200 L } } }
`;
const beginMs = Date.UTC(2026, 2, 3, 4);
const nodes = 40;
const round = (value: number): number => Number(value.toFixed(6));
const encoder = new TextEncoder();

/** Each time that is written out is one of a view. */
let timesShown = 0;
const pipeline = createPipeline();
const live = createLiveState({
  board: pipeline.board,
  line: pipeline.line,
  engineMs: pipeline.engineMs,
  calendar: {
    at(ms: number) {
      timesShown += 1;
      return ms;
    },
  } as never,
  simulated: false,
});

let seq = 1;
function heard(node: string): void {
  seq += 1;
  pipeline.push(
    {
      seq,
      receivedAt: beginMs + seq * 10,
      kind: "message",
      topic: `drumlin/1/saltmarsh-house/${node}/readings`,
      payload: encoder.encode(
        JSON.stringify([
          { boot: 1, seq, n: "ec-2", u: "S/m", v: 0.04, t: (beginMs + seq * 10) / 1000 },
          ...[{ n: "ec-1", u: "S/m", v: 0.03 }, ...(node === "press" ? atPress : [])].map((record) => ({
            ...record,
            t: (beginMs + seq * 10) / 1000,
          })),
        ]),
      ),
    },
    () => {},
  );
}

/** Each kind of channel that the node of the line has, once. */
const atPress = [
  { n: "f-1", u: "m3/s", v: 4 / 60_000 },
  { n: "f-2", u: "m3/s", v: 2 / 60_000 },
  { n: "float", v: 1 },
  { n: "d-1", u: "m", v: 0.5 },
];

/** The view of a node as a page gets it once it is heard, and how many times were written out for it. */
function viewOnceHeard(node: string) {
  const told: { key: string | null; view: () => unknown }[] = [];
  const stop = live.subscribe((one) => told.push(one));
  heard(node);
  stop();
  timesShown = 0;
  const view = told.find(({ key }) => key === `node/${node}`)?.view();
  return { view, timesShown };
}

beforeAll(() => {
  pipeline.push({ seq, receivedAt: beginMs, kind: "line", yaml }, () => {});
  for (let node = 0; node < nodes; node += 1) heard(`n${node}`);
});
afterAll(() => {
  expect(live.lineView()?.nodes).toHaveLength(nodes + 1);
});

it("a node's view has the channels of its own that the line does not know, by name", () => {
  const { view } = viewOnceHeard("n1");
  expect(view).toMatchObject({
    event: "node",
    data: { id: "n1", packs: 2, unassigned: [{ channel: "n1/ec-1" }, { channel: "n1/ec-2" }] },
  });
});

it("a node's view has what each channel that the line names said last, of whatever kind, a drum's level in litres", () => {
  // Until a node has been up for 10 s, what it says is missing.
  for (let pack = 0; pack < 1200; pack += 1) heard("press");
  const { view } = viewOnceHeard("press");
  const { channels } = (view as { data: NodeView }).data;
  expect(
    channels.map(({ channel, of, now }) => [
      channel,
      of.kind,
      of.id,
      now.value && round(now.value),
      now.unit,
    ]),
  ).toEqual([
    ["press/ec-1", "point", "supply", 300, "uS/cm"],
    ["press/f-1", "flow", "end", 4, "L/min"],
    ["press/f-2", "waste", "membrane", 2, "L/min"],
    ["press/float", "float", "fresh.stop", 1, "1"],
    ["press/d-1", "drum", "fresh", 100, "L"],
  ]);
});

it("a node's view costs no more the more nodes there are", () => {
  // When it was last heard, and when each of its two channels was.
  expect(viewOnceHeard("n7").timesShown).toBeLessThanOrEqual(4);
});
