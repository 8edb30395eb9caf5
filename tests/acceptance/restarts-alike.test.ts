// The gateway begins anew between two packs, again and again: what it tells of the water is what it tells without. Written down
// before the first run.
import { describe, expect, it } from "vitest";
import { random } from "../golden/random.ts";
import { begunAnew, toldOf } from "./begun-anew.ts";
import { both, type Events, keeping } from "./outside-keeping.ts";
import { act, at, type Does, drawn, epochMs, kits, saysKappa, usual, usualS } from "./outside-plans.ts";

const hours = 3.2;
const fromS = 7600;
const silentForS = 400;
const manual = kits.float.replace("stop: tubs", "control: manual, stop: tubs");
const released = act({ type: "release", drum: "tub", reason: "hand-test", value25UsPerCm: 1 });
const undone = act({ type: "release-undo", drum: "tub" });
const begins = act({ type: "proof-start", float: "tub.stop", method: "lifted" });

const shut =
  (is: boolean): Does =>
  ({ tub }) => {
    tub.isShut = is;
  };
const lifted: Does = ({ tub }) => {
  tub.contact = () => true;
};
const down: Does = ({ tub }) => {
  tub.contact = (isWet) => isWet;
};

/** Fills, a release that is taken back in time and one too late, a guided test, bad water, and what nodes kept for some minutes. */
function plan(isManual: boolean): Events {
  const { events } = keeping(silentForS, both(4));
  const opens = (is: boolean) =>
    isManual ? [act({ type: is ? "fill-started" : "fill-stopped", drum: "tub" }), shut(!is)] : [];
  const fill = (atS: number, litres: number): Events => [
    ...opens(true).map((does) => at(atS + 90, does)),
    at(atS, drawn(litres)),
    ...opens(false).map((does) => at(atS + 1300, does)),
  ];
  return [
    ...opens(false).map((does) => at(1, does)),
    ...fill(100, 31),
    ...[at(1500, released), at(1800, undone), at(1900, released), at(2530, undone)],
    ...[at(2600, shut(true)), at(2610, drawn(28, 60)), at(2700, begins), at(2720, lifted), at(2740, down)],
    at(2900, shut(isManual)),
    ...fill(3000, 45),
    at(4400, ({ press }) => {
      press.alter = saysKappa(40);
    }),
    ...fill(4500, 27),
    at(5900, ({ press }) => {
      press.alter = (records) => records;
    }),
    at(6500, released),
    ...fill(7300, 60),
    ...events.map(([atS, does]) => at(atS + fromS, does)),
    ...fill(9500, 24),
  ];
}

/** While nothing is heard of a node, a start is a begin of its silence. */
const isHeard = (ms: number) =>
  (ms > epochMs(600) && ms < epochMs(usualS + fromS)) || ms >= epochMs(usualS + fromS + silentForS);

describe.each([
  ["float alone", kits.float, false],
  ["meter", kits.meter, false],
  ["level", kits.level, false],
  ["meter and level", kits.both, false],
  ["by hand", manual, true],
] as const)("%s: the gateway begins anew", (_kit, line, isManual) => {
  const { entries } = usual(line, hours, plan(isManual)).bench;
  const straight = toldOf(begunAnew(entries, new Set()));
  const anew = (share: number, seed: number) => {
    const draw = random(seed);
    const at = entries.flatMap(({ receivedAt }, index) =>
      index > 2 && isHeard(receivedAt) && draw() < share ? [index] : [],
    );
    return toldOf(begunAnew(entries, new Set(at)));
  };
  it("there is something to tell: fills, a hold, a proof", () => {
    for (const what of ['"kind":"fill"', '"verdict":"hold"', '"kind":"proof"'])
      expect(straight.some((told) => told.includes(what))).toBe(true);
  });
  it("at some moments: the same fills, words, alarms and nights", () => {
    expect(anew(0.004, 2)).toEqual(straight);
  });
  it("each few packs: the same", () => {
    expect(anew(0.03, 3)).toEqual(straight);
  });
});
