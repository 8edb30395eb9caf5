// Bad water on its way to animals, by a model of the works of its own: resin, supply, probes, thermometers, silences, people
// who carry water, salt. Each row stands as it was written down before its first run, or says what was wrong with it.
import { filled, hour, instead, often, sips, small, soonS, word } from "./filled-drum.ts";
import { createColumn } from "./resin-column.ts";
import { type Row, table } from "./scenario-table.ts";
import { drawn } from "./waterworks-line.ts";

table("resin that is spent", [
  ...(["meter", "level", "float"] as const).map((kit): Row => {
    const fit = { meter: kit === "meter", level: kit === "level" };
    return [
      `slowly, 20 L at a time, ${kit}: told, and held before the drum is over its band`,
      () => {
        const s = filled(
          fit,
          4.5 * hour,
          { column: createColumn({ halfL: 300, zoneL: 22 }), supply: 400 },
          { draw: often },
        );
        return { ...word(s), told: s.called().includes("resin-breakthrough:after-resin") };
      },
      { word: "hold", lies: false, told: true },
    ];
  }),
  ...(["meter", "level", "float"] as const).map((kit): Row => {
    const fit = { ...small, meter: kit === "meter", level: kit === "level" };
    return [
      `to 30 uS/cm, and only 3 L at a time are made, ${kit}: held before the drum is over its band`,
      () => {
        const s = filled(fit, 5 * hour, { out: (atS) => (atS > 3500 ? 30 : 0.2) }, { draw: sips });
        return { ...word(s), told: s.called().length > 0 };
      },
      { word: "hold", lies: false, told: true },
    ];
  }),
  ...(["meter", "level", "float"] as const).map((kit): Row => {
    const fit = { ...small, meter: kit === "meter", level: kit === "level" };
    return [
      `to the supply's own 400 uS/cm at once, 3 L at a time, ${kit}: no lie`,
      () => word(filled(fit, 3 * hour, { out: (atS) => (atS > 3500 ? 390 : 0.2) }, { draw: sips })),
      { word: "hold", lies: false },
    ];
  }),
  [
    "suddenly, in mid-fill: called within 90 s of the first bad litre",
    () => {
      const s = filled(
        {},
        2 * hour,
        { out: (atS) => (atS > 4300 ? 300 : 0.2) },
        { draw: drawn(4000, 90_000, 60, 300) },
      );
      return { ...word(s), inTime: (s.calledAtS("resin-breakthrough") ?? 1e9) <= 4300 + 90 };
    },
    { word: "hold", lies: false, inTime: true },
  ],
  [
    "not at all: water that stood in the vessel comes at 40 uS/cm for a litre, then it is good",
    () => {
      const column = createColumn({ halfL: 1e6, zoneL: 10, standing: 40, standsS: 900 });
      const s = filled({}, 2.5 * hour, { column }, { draw: often });
      return { ...word(s), called: s.calledOfWater() };
    },
    { word: "use", lies: false, called: [] },
  ],
  [
    "not at all: after two hours the vessel gives a litre at 300 uS/cm",
    () => {
      const column = createColumn({ halfL: 1e6, zoneL: 10, standing: 300, standsS: 1800 });
      const s = filled({}, 4 * hour, { column }, { draw: drawn(3 * hour, 90_000, 21) });
      return { ...word(s), called: s.calledOfWater() };
    },
    { word: "use", lies: false, called: [] },
  ],
  [
    "not at all, but only first water is ever made, 3 L at a time at 40 uS/cm: no `use` of it",
    () => {
      const column = createColumn({ halfL: 1e6, zoneL: 10, standing: 90, standsS: 300 });
      const s = filled(small, 5 * hour, { column }, { draw: sips });
      return { use: s.word() === "use", lies: s.lied() > soonS };
    },
    { use: false, lies: false },
  ],
  [
    "at 8 uS/cm for two of three readings: share of time counts, one good reading clears nothing",
    () => {
      const says = instead("ec-2", (value, atS) => (atS > 4000 && atS % 60 !== 0 ? 8 : value));
      const s = filled({}, 2 * hour, { says, periodS: 20 }, { draw: drawn(4000, 90_000, 60, 300) });
      return s.word();
    },
    "hold",
  ],
]);

table("the supply", [
  [
    "leaps from 400 to 1,200 uS/cm, the resin holds: nothing is called, the word stays",
    () => {
      const s = filled({}, 2.5 * hour, { supply: (atS) => (atS > 5000 ? 1200 : 400) }, { draw: often });
      return { ...word(s), called: s.calledOfWater() };
    },
    { word: "use", lies: false, called: [] },
  ],
  [
    "falls to 50 while 80 still come out of spent resin, more than 1.2 times what goes in: no `use`",
    () => {
      const s = filled(
        {},
        2.5 * hour,
        { supply: (atS) => (atS > 3500 ? 50 : 400), out: (atS) => (atS > 3500 ? 80 : 0.2) },
        { draw: often },
      );
      return { use: s.word() === "use", lies: s.lied() > soonS };
    },
    { use: false, lies: false },
  ],
  [
    "wavers between 200 and 900 each minute: good water behind it stays good",
    () => {
      const s = filled({}, 2 * hour, { supply: (atS) => (atS % 60 < 30 ? 200 : 900) }, { draw: often });
      return { ...word(s), called: s.calledOfWater() };
    },
    { word: "use", lies: false, called: [] },
  ],
]);
