// A float that was proved, and whose contact another line describes since. Written down before the first run.
import { describe, expect, it } from "vitest";
import { createLineBench } from "./line-bench.ts";
import { pressPack } from "./node-says.ts";

const lineOf = (over: string) => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L, flow: press/flow-1 } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, stop: { channel: drums/stop, wet: true, trips_at: 180 L, releases_at: 160 L }, floats: { overflow: ${over} } }
`;
const first = "{ channel: drums/over, wet: true }";
const starts = { type: "proof-start", float: "mix.overflow", method: "lifted" };

/** A pool with two contacts at its edge: each says "closed" where `up` is, the second the other way round. */
function pool(over = first) {
  const bench = createLineBench(lineOf(over));
  let atS = 5;
  let up = false;
  const refused: (string | null)[] = [];
  return {
    bench,
    refused,
    live(forS: number, dry = false) {
      for (const toS = atS + forS; atS < toS; atS += 5) {
        bench.node("press", pressPack({ kappa: 0.3, flowLPerMin: dry ? 4 : 0 }), atS);
        const says = { stop: !dry, over: up, second: !up };
        bench.node(
          "drums",
          Object.entries(says).map(([n, vb]) => ({ n, vb })),
          atS + 1,
        );
      }
    },
    lift(isUp: boolean) {
      up = isUp;
    },
    act: (given: object) => refused.push(bench.act(given, atS - 1)),
    line: (next: string) => bench.line(lineOf(next), atS - 1),
    restart: () => bench.restart(atS - 1),
    results: () => bench.outcomes.flatMap((one) => (one.kind === "proof" ? [one.result] : [])),
    /** How loud a fill is told that takes longer than it ever did. */
    longFill() {
      this.live(600, true);
      return bench.alarms().findLast(({ alarm }) => alarm.condition === "fill-long")?.alarm.attention;
    },
  };
}

function proved(over = first) {
  const own = pool(over);
  for (let turn = 0; turn < 5; turn += 1) {
    own.live(300);
    own.live(300, true);
  }
  own.live(300);
  own.act(starts);
  own.live(10);
  own.lift(true);
  own.live(30);
  own.lift(false);
  own.live(60);
  expect(own.results()).toEqual(["passed"]);
  return own;
}

describe("an overflow float was proved, and a long fill is told under it", () => {
  it("its contact is the same: today", () => expect(proved().longFill()).toBe("today"));

  it("the line says of its contact what the test had shown: today", () => {
    const own = proved("drums/over");
    own.line(first);
    expect(own.longFill()).toBe("today");
  });

  it.each([false, true])("another contact tells of it: tell (started anew since: %s)", (isAnew) => {
    const own = proved();
    own.line("{ channel: drums/second, wet: false }");
    if (isAnew) own.restart();
    expect(own.longFill()).toBe("tell");
  });

  it("its contact is taken the other way round: tell", () => {
    const own = proved();
    own.lift(true);
    own.line("{ channel: drums/over, wet: false }");
    expect(own.longFill()).toBe("tell");
  });
});

it("the new contact reads wet while it hangs dry: it can be tried, and is turned", () => {
  const own = proved();
  own.line("drums/second");
  own.live(30);
  own.act(starts);
  own.live(10);
  own.lift(true);
  own.live(30);
  own.lift(false);
  own.live(30);
  const test = own.bench.outcomes.findLast((one) => one.kind === "proof");
  own.act({ type: "proof-turn", float: "mix.overflow", test: test?.kind === "proof" ? test.id : "" });
  expect(own.refused).toEqual([null, null, null]);
  expect(own.results()).toEqual(["passed", "reversed", "turned"]);
});

it("another contact tells of it in the middle of a test: that is over, and not passed", () => {
  const own = pool();
  own.live(60);
  own.act(starts);
  own.live(10);
  own.lift(true);
  own.live(30);
  own.line("drums/second");
  own.live(30);
  own.lift(false);
  own.live(60);
  expect(own.results()).toEqual(["cancelled"]);
});
