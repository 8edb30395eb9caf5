// A gateway that fails and starts again and again, beside nodes that are dead, slow to come back, or well. What is told, and by when, was
// written down before the first run.
import { deserialize, serialize } from "node:v8";
import { createPipeline } from "@drumlin/gateway/app";
import type { PathEntry } from "@drumlin/gateway/path";
import { describe, expect, it } from "vitest";
import { beginMs } from "./line-bench.ts";
import { nodeSays } from "./node-says.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
flows: { supply: press/flow-1 }
drums: { mix: { volume: 200 L, fed_by: supply, control: automatic, stop: drums/stop } }
`;
const records = {
  press: [
    { n: "ec-1", u: "S/m", v: 0.04 },
    { n: "flow-1", u: "m3/s", v: 0 },
  ],
  drums: [{ n: "stop", vb: true }],
  calling: [{ n: "stop", vb: false }],
} as const;

/** A gateway on a clock of its own: it ticks when a deadline is due while it runs, and goes on from what it saved. */
function gateway(periodS: number) {
  let pipeline = createPipeline();
  let seq = 0;
  const told: string[] = [];
  const pushAt = (ms: number, entry: object) => {
    seq += 1;
    pipeline.push(
      { seq, receivedAt: ms, ...entry } as PathEntry as Parameters<typeof pipeline.push>[0],
      (out) => {
        if (out.kind === "alarm" && (out.why === "raised" || out.why === "re-raised"))
          told.push(`${out.alarm.condition} ${(out.atMs - beginMs) / 1000}`);
      },
    );
  };
  const runsTo = (atS: number) => {
    for (
      let due = pipeline.nextDeadline();
      due !== null && due < beginMs + atS * 1000;
      due = pipeline.nextDeadline()
    )
      pushAt(due, { kind: "tick" });
  };
  const push = (atS: number, entry: object) => {
    runsTo(atS);
    pushAt(beginMs + atS * 1000, entry);
  };
  const start = { kind: "start", version: "test", instance: "test" };
  push(0, start);
  push(0, { kind: "line", yaml });
  for (const node of ["press", "drums"])
    push(
      0,
      nodeSays(node, "presence", { state: "online", boot: 7, protocol: 1, period_s: periodS, channels: [] }),
    );
  const of = (condition: string) =>
    told.flatMap((one) => (one.startsWith(`${condition} `) ? [Number(one.split(" ")[1])] : []));
  const all = {
    of,
    pack(node: "press" | "drums", atS: number, what: keyof typeof records = node) {
      push(atS, nodeSays(node, "readings", records[what]));
    },
    /** Both speak in [fromS, toS). */
    both(fromS: number, toS: number, what: "drums" | "calling" = "drums") {
      for (let atS = fromS; atS < toS; atS += periodS) {
        all.pack("press", atS);
        all.pack("drums", atS, what);
      }
    },
    /** When it does something next though nothing is heard, s; and when one that goes on from what it has saved would. */
    nextS() {
      const restored = createPipeline();
      restored.restore(deserialize(serialize(pipeline.snapshot())));
      return [pipeline, restored].map((path) => ((path.nextDeadline() ?? 0) - beginMs) / 1000);
    },
    to: (atS: number) => push(atS, { kind: "tick" }),
    /** It fails at `atS`, with what it had saved then, and is back after `downS`. */
    fails(atS: number, downS: number) {
      runsTo(atS);
      const saved = deserialize(serialize(pipeline.snapshot()));
      pipeline = createPipeline();
      pipeline.restore(saved);
      pushAt(beginMs + (atS + downS) * 1000, start);
    },
  };
  return all;
}

describe("a gateway that starts again and again while a node is dead", () => {
  it.each([
    [5, 20, 100],
    [5, 50, 300],
    [10, 50, 600],
    [10, 110, 600],
    [60, 300, 3000],
  ])("of a pack each %i s, each %i s: the node is told to be silent", (periodS, eachS, withinS) => {
    const house = gateway(periodS);
    house.both(0, 600);
    for (let atS = 600 + eachS / 2; atS < 9000; atS += eachS) house.fails(atS, 2);
    expect(house.of("node-silent").length).toBe(2);
    expect(Math.max(...house.of("node-silent"))).toBeLessThan(600 + 300 + withinS);
  });
  it("each 50 s, one node lives: the other one is told", () => {
    const house = gateway(10);
    house.both(0, 600);
    for (let atS = 600; atS < 3000; atS += 10) {
      house.pack("press", atS);
      if (atS % 50 === 0) house.fails(atS + 3, 2);
    }
    expect(house.of("node-silent")).toHaveLength(1);
    expect(house.of("node-silent")[0]).toBeLessThan(900);
    expect(house.of("site-silent")).toEqual([]);
  });
  it("a drum that calls unwatched is told", () => {
    const house = gateway(10);
    house.both(0, 600, "calling");
    for (let atS = 600; atS < 3000; atS += 10) {
      house.pack("drums", atS, "calling");
      if (atS % 50 === 0) house.fails(atS + 3, 2);
    }
    expect(house.of("watch-lost")[0]).toBeLessThan(1200);
  });
});

describe("a start in a silence", () => {
  const heardS = 590;
  const alone = (then: (house: ReturnType<typeof gateway>) => void) => {
    const house = gateway(10);
    house.both(0, 600);
    for (let atS = 600; atS < 5000; atS += 10) {
      if (atS === 600) then(house);
      house.pack("press", Math.max(atS, 600));
    }
    return house.of("node-silent");
  };
  it("takes out what the gateway was away, and no more", () => {
    expect(alone(() => {})).toEqual([heardS + 120]);
    const house = gateway(10);
    house.both(0, 600);
    for (let atS = 600; atS < 620; atS += 10) house.pack("press", atS);
    house.fails(621, 4);
    for (let atS = 630; atS < 900; atS += 10) house.pack("press", atS);
    const [toldS = 0] = house.of("node-silent");
    expect(toldS).toBeGreaterThanOrEqual(heardS + 120);
    expect(toldS).toBeLessThanOrEqual(heardS + 120 + 4 + 20);
  });
  it("leaves a node a minute to connect again, after an hour away as well", () => {
    for (const downS of [2, 3600]) {
      const house = gateway(10);
      house.both(0, 600);
      for (let atS = 600; atS < 700; atS += 10) house.pack("press", atS);
      house.fails(705, downS);
      const [backS] = [705 + downS];
      for (let atS = backS + 5; atS < backS + 400; atS += 10) house.pack("press", atS);
      const [toldS = 0] = house.of("node-silent");
      expect(toldS - backS).toBeGreaterThanOrEqual(60);
      expect(toldS - backS).toBeLessThanOrEqual(75);
    }
  });
  it("makes two nodes that died hours apart no one cause", () => {
    const house = gateway(10);
    house.both(0, 600);
    for (let atS = 600; atS < 4000; atS += 10) house.pack("press", atS);
    house.to(6000);
    house.fails(6100, 5);
    house.to(9000);
    expect(house.of("site-silent")).toEqual([]);
  });
  it("nor two that are back 50 s after it", () => {
    const house = gateway(5);
    house.both(0, 600);
    house.fails(603, 10);
    house.both(663, 900);
    expect(house.of("site-silent")).toEqual([]);
    expect(house.of("node-silent")).toEqual([]);
  });
});

describe("what a gateway has saved", () => {
  it("makes it look again no sooner than it would have", () => {
    const house = gateway(10);
    house.both(0, 600, "calling");
    for (let atS = 600; atS < 900; atS += 10) {
      house.pack("press", atS);
      const [straightS, restoredS] = house.nextS();
      expect(restoredS).toBeGreaterThanOrEqual(straightS as number);
      expect(straightS).toBeGreaterThanOrEqual(atS);
    }
  });
});
