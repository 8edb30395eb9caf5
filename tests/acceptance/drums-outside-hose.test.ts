// Water that comes in beside the line's meter while it counts: the float trips after less than any fill has brought.
// Written down before the first run.
import { describe, expect, it } from "vitest";
import {
  at,
  drawn,
  draws,
  isFillingAt,
  kits,
  released,
  usual,
  usualS,
  when,
  words,
} from "./outside-plans.ts";

describe("a drum with a meter and a float", () => {
  it("half of what makes the float trip comes by a hose of 400 uS/cm: nobody saw it", () => {
    const lived = usual(kits.meter, 1, [
      at(300, (life, atS) => {
        Object.assign(life.tub, { hose: 4, hoseKappa: 400 });
        drawn(27, 60)(life, atS);
      }),
      at(550, ({ tub }) => {
        tub.hose = 0;
      }),
    ]);
    expect(lived.samples.at(-1)?.blend.tub).toBeGreaterThan(30);
    expect(words(lived, "tub", usualS + 600)).toEqual(["unknown"]);
  });

  it("draws of 18, 20 and 30 L after six of 22: all of it passed the meter", () => {
    const lived = usual(kits.meter, 1.2, [
      ...[at(300, drawn(20.2, 60)), at(1500, drawn(18, 60)), at(2400, drawn(30, 60))],
    ]);
    expect(lived.fills.length).toBeGreaterThan(8);
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
  });

  it("a meter that always counts a quarter too little misses nothing of its own", () => {
    const reads = at(0, ({ press }) => {
      press.alter = (records) =>
        records.map((one) => (one.n === "flow-1" ? { ...one, v: 0.75 * (one.v as number) } : one));
    });
    const lived = usual(kits.meter, 1, [at(300, drawn(22))], [reads, released(), ...draws(22)]);
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
  });
});

it("its node dies in mid-fill: what came in that silence is in the fill, and came by no hose", () => {
  const lived = usual(kits.meter, 7, [
    at(300, drawn(22)),
    ...when(310, isFillingAt(166), ({ press }) => {
      press.isOn = false;
    }),
    at(2700, ({ press }, atS) => Object.assign(press, { isOn: true, boot: 60, sinceS: atS, seq: 0 })),
    ...draws(22, { fromS: 3600, times: 14 }),
  ]);
  // 14 L unseen of the feed's 400; each fill leaves 0.89 of them: 12 fills until they are no more than 8 uS/cm.
  expect(words(lived, "tub", usualS)).toEqual(["use", "unknown", "use"]);
});
