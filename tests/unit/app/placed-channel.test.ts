import { createPipeline } from "@drumlin/gateway/app";
import { beforeEach, describe, expect, it } from "vitest";
import { liveOf } from "./live-of.ts";

const beginMs = Date.UTC(2026, 2, 3, 4);
const encoder = new TextEncoder();
const bare = `drumlin: 1
site: saltmarsh-house
points:
  supply: {}
  after-resin: {}
stages: { resin: { kind: resin, from: supply, to: after-resin } }
drums: { mix: { volume: 200 L, fed_by: after-resin } }
`;
const withSupply = bare.replace("supply: {}", "supply: { conductivity: press/ec-1, temperature: press/t-1 }");
const withFloat = bare.replace("fed_by: after-resin", "fed_by: after-resin, stop: press/f-1");

/** A gateway whose line has parts and no channel; a node was heard, and then placed by a new line. */
function createHouse() {
  const pipeline = createPipeline();
  const live = liveOf(pipeline);
  const kinds: string[] = [];
  let seq = 0;
  const push = (atS: number, more: object) => {
    seq += 1;
    const entry = { seq, receivedAt: beginMs + atS * 1000, ...more };
    pipeline.push(entry as never, (outcome) => {
      kinds.push(
        outcome.kind === "measurement" ? `${outcome.channel} ${outcome.quantity} ${outcome.value}` : "",
      );
    });
  };
  const house = {
    line: (atS: number, yaml: string) => push(atS, { kind: "line", yaml }),
    say: (atS: number, records: readonly object[], up?: number) =>
      push(atS, {
        kind: "message",
        topic: "drumlin/1/saltmarsh-house/press/readings",
        payload: encoder.encode(
          JSON.stringify(
            records.map((one, at) => ({
              ...(at === 0 ? { boot: 1, seq, ...(up ? { up } : {}) } : {}),
              ...one,
            })),
          ),
        ),
      }),
    measured: () => kinds.splice(0).filter((words) => words !== ""),
    point: (id: string) => live.lineView()?.points.find((one) => one.id === id),
    float: () => live.lineView()?.drums[0]?.floats[0]?.state,
    unplaced: () =>
      live.lineView()?.nodes.flatMap(({ unassigned }) => unassigned.map(({ channel }) => channel)),
  };
  house.line(0, bare);
  return house;
}

let house: ReturnType<typeof createHouse>;
beforeEach(() => {
  house = createHouse();
});
const heard = [
  { n: "ec-1", u: "S/m", v: 0.0412 },
  { n: "t-1", u: "Cel", v: 25 },
];

describe("a channel that gets its place", () => {
  it("shows what it said before, as of then, and is judged by it", () => {
    house.say(10, heard);
    house.line(30, withSupply);
    expect(house.point("supply")).toMatchObject({
      conductivity: { value: 412, at: "2026-03-03T04:00:10.000Z" },
      temperature: { value: 25 },
      probe: { channel: "press/ec-1", said: 412 },
    });
    expect(house.unplaced()).toEqual([]);
  });

  it("says what it was where that is no more about now", () => {
    house.say(10, heard);
    house.line(1000, withSupply);
    expect(house.point("supply")).toMatchObject({ conductivity: { value: null, flag: 9, was: 412 } });
  });

  it("tells it once: a second line says nothing again", () => {
    house.say(10, heard);
    house.line(30, withSupply);
    expect(house.measured().filter((words) => words === "press/ec-1 conductivity 412")).toHaveLength(1);
    house.line(31, withSupply.replace("200 L", "210 L"));
    expect(house.measured()).toEqual([]);
  });

  it("says nothing by what it said as its node had just started", () => {
    house.say(10, heard, 2);
    house.line(30, withSupply);
    expect(house.point("supply")).toMatchObject({ conductivity: { value: null } });
  });

  it("of a float tells whether it is lifted", () => {
    house.say(10, [{ n: "f-1", vb: true }]);
    house.line(20, withFloat);
    expect(house.float()).toBe("wet");
  });

  it("is there to be placed again at once where its place is taken back", () => {
    house.say(10, heard);
    house.line(20, withSupply);
    house.line(25, bare);
    expect(house.unplaced()).toEqual(["press/ec-1", "press/t-1"]);
    house.line(30, bare.replace("after-resin: {}", "after-resin: { conductivity: press/ec-1 }"));
    expect(house.point("after-resin")).toMatchObject({ conductivity: { value: 412 } });
    expect(house.unplaced()).toEqual(["press/t-1"]);
  });

  it("heard since, it waits for its next message where its place is taken back: what it said first is old", () => {
    house.say(10, heard);
    house.line(20, withSupply);
    house.say(30, [{ n: "ec-1", u: "S/m", v: 0.05 }]);
    house.line(40, bare);
    expect(house.unplaced()).toEqual(["press/t-1"]);
    house.say(50, [{ n: "ec-1", u: "S/m", v: 0.06 }]);
    expect(house.unplaced()).toEqual(["press/ec-1", "press/t-1"]);
  });
});
