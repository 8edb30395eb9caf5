import { describe, expect, it } from "vitest";
import { beginMs, createLineBench } from "../../acceptance/line-bench.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 }, after-resin: { conductivity: press/ec-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin } }
buttons: { by-the-resin: { channel: press/button-1, work: { stage: resin, minutes: 60 } } }
`;
const resin = { kind: "stage", id: "resin" };

/** What was said of work, with the second at which it is over. */
function aBench() {
  const bench = createLineBench(yaml);
  return {
    ...bench,
    press: (atS: number, held: boolean) => bench.node("press", [{ n: "button-1", vb: held }], atS),
    works: () =>
      bench.outcomes.flatMap((outcome) =>
        outcome.kind === "work"
          ? [
              {
                on: outcome.subject,
                by: outcome.by,
                untilS: outcome.untilMs === null ? null : (outcome.untilMs - beginMs) / 1000,
              },
            ]
          : [],
      ),
  };
}

describe("a button by the work", () => {
  it("begins the work when it is pressed, and ends it when it is pressed again; holding means nothing", () => {
    const bench = aBench();
    bench.press(20, false);
    bench.press(30, true);
    bench.press(35, true);
    bench.press(40, false);
    expect(bench.works()).toEqual([{ on: resin, by: "button by-the-resin", untilS: 3630 }]);
    bench.press(100, true);
    bench.press(105, false);
    expect(bench.works().at(-1)).toEqual({ on: resin, by: "button by-the-resin", untilS: null });
    bench.press(200, true);
    expect(bench.works().at(-1)).toEqual({ on: resin, by: "button by-the-resin", untilS: 3800 });
  });

  it("ends by itself, and a press after that begins anew", () => {
    const bench = aBench();
    bench.press(20, false);
    bench.press(30, true);
    bench.press(40, false);
    bench.tick(3700);
    expect(bench.works().at(-1)).toEqual({ on: resin, by: "button by-the-resin", untilS: null });
    bench.press(4000, true);
    expect(bench.works().at(-1)).toMatchObject({ untilS: 7600 });
  });

  it("silences what the resin can cause", () => {
    const bench = aBench();
    bench.press(20, false);
    bench.press(30, true);
    expect(
      bench.outcomes.some(
        (one) =>
          one.kind === "alarm" &&
          one.why === "suppressed" &&
          one.alarm.key === "resin-breakthrough:after-resin",
      ),
    ).toBe(true);
  });

  it("that was held when the gateway heard it first says nothing", () => {
    const bench = aBench();
    bench.press(20, true);
    bench.press(25, true);
    expect(bench.works()).toEqual([]);
  });

  it("that is held while the gateway starts again neither ends its work nor begins it anew", () => {
    const bench = aBench();
    bench.press(20, false);
    bench.press(30, true);
    bench.restart(60);
    bench.press(65, true);
    expect(bench.works().length).toBe(1);
    bench.press(70, false);
    bench.restart(80);
    bench.press(85, true);
    expect(bench.works().at(-1)).toMatchObject({ untilS: null });
  });
});
