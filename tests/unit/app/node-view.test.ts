import { createPipeline } from "@drumlin/gateway/app";
import { afterAll, beforeAll, expect, it } from "vitest";
import { createLiveState } from "../../../gateway/src/app/live-state.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
`;
const beginMs = Date.UTC(2026, 2, 3, 4);
const nodes = 40;
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
          { n: "ec-1", u: "S/m", v: 0.03, t: (beginMs + seq * 10) / 1000 },
        ]),
      ),
    },
    () => {},
  );
}

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
  expect(live.lineView()?.nodes).toHaveLength(nodes);
});

it("a node's view has the channels of its own that the line does not know, by name", () => {
  const { view } = viewOnceHeard("n1");
  expect(view).toMatchObject({
    event: "node",
    data: { id: "n1", packs: 2, unassigned: [{ channel: "n1/ec-1" }, { channel: "n1/ec-2" }] },
  });
});

it("a node's view costs no more the more nodes there are", () => {
  // When it was last heard, and when each of its two channels was.
  expect(viewOnceHeard("n7").timesShown).toBeLessThanOrEqual(4);
});
