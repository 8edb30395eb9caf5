import { bracesOf, type SentenceCode, say, sentences } from "@drumlin/gateway/words/form";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { choose, type Settings } from "../../../monitor-ui/src/data/settings.ts";
import { line } from "../../../monitor-ui/src/data/state.ts";
import { asSet, figure, numberOf, whole } from "../../../monitor-ui/src/format/numbers.ts";
import { sentenceOf } from "../../../monitor-ui/src/format/reasons.ts";
import {
  conductivity25,
  fromShown,
  inUnit,
  litresPerGallon,
  type Shown,
  temperature,
  toShown,
  unitOf,
  volume,
} from "../../../monitor-ui/src/format/units.ts";

const usual: Settings = {
  language: "en",
  numbers: "en-GB",
  conductivity: "uS/cm",
  volume: "L",
  temperature: "Cel",
};

beforeEach(() => {
  choose(usual);
  line.value = { solids: 0.64 } as typeof line.value;
});
afterEach(() => {
  // Other files of this worker read the same settings.
  choose({ ...usual, language: "auto", numbers: "auto" });
  line.value = null;
});

describe("units that a person chooses", () => {
  it("are converted as NIST SP 811 (2008), appendix B.8, has it", () => {
    // gallon (U.S.) = 3.785 412 E-03 m3; t/°C = (t/°F − 32)/1.8.
    expect(litresPerGallon).toBeCloseTo(3.785412, 6);
    choose({ volume: "gal", temperature: "degF" });
    expect(toShown("volume", 3.785412)).toBeCloseTo(1, 6);
    for (const [celsius, fahrenheit] of [
      [0, 32],
      [100, 212],
      [-40, -40],
      [37, 98.6],
    ] as const) {
      expect(toShown("temperature", celsius)).toBeCloseTo(fahrenheit, 9);
      expect(fromShown("temperature", fahrenheit)).toBeCloseTo(celsius, 9);
    }
  });

  it("mg/L go by the line's own factor, and are not offered where it has none", () => {
    choose({ conductivity: "mg/L" });
    expect(conductivity25(400)).toBe("256 mg/L");
    line.value = { solids: null } as typeof line.value;
    expect([conductivity25(400), unitOf("conductivity25")]).toEqual(["400 µS/cm", "µS/cm"]);
  });

  it("are said with their figures", () => {
    expect([volume(184), temperature(21.26)]).toEqual(["184 L", "21.3 °C"]);
    choose({ volume: "gal", temperature: "degF", numbers: "de-DE" });
    expect([volume(184), temperature(21.26)]).toEqual(["48,6 gal", "70,3 °F"]);
  });

  it("a value of an alarm is said in its unit: times as times, fills by their number", () => {
    const said = (value: number, unit: string) => inUnit(value, unit).replaceAll(/\s/g, " ");
    expect([
      said(720, "s"),
      said(194.4, "min"),
      said(184.2, "d"),
      said(1, "fills"),
      said(3, "fills"),
    ]).toEqual(["12 min", "3 h 14 min", "184 days", "1 fill", "3 fills"]);
    // Of a membrane that stops too little a tenth of a percent tells.
    expect([said(0.4, "L/h"), said(30, "/min"), said(97.6, "%")]).toEqual(["0.40 L/h", "30 /min", "97.6 %"]);
    choose({ volume: "gal" });
    expect(said(0.4, "L/h")).toBe("0.11 gal/h");
  });

  it("a sentence of the gateway has each figure with its unit once, in the unit that was chosen", () => {
    const untaught = say("guard-level-untaught", { litres: 198 });
    const typical = say("guard-typical-flow", { flow: 2 });
    expect([untaught, typical].map((text) => sentenceOf(text).replaceAll(/\s/g, " "))).toEqual([
      "Level: where the float trips is not known yet. A stop that fails is told at 198 L.",
      "These figures are for 2 L/min: typical, not yours. Write greatest_flow into the line file.",
    ]);
    choose({ volume: "gal" });
    for (const [code, words] of Object.entries(sentences)) {
      const values = Object.fromEntries(bracesOf(words).map((name) => [name, 7]));
      const said = sentenceOf(say(code as SentenceCode, values));
      expect(said, code).not.toMatch(/\d\s?L\b|gal\s?L\b|gal\/min\s?L\b/);
    }
  });

  it("what is typed comes back as it was typed, in each unit and each form of numbers", () => {
    const typed = fc.tuple(fc.integer({ min: 1, max: 99_999 }), fc.integer({ min: 0, max: 3 }));
    fc.assert(
      fc.property(
        typed,
        fc.constantFrom<Shown>("conductivity25", "volume", "flow", "temperature"),
        fc.constantFrom<Partial<Settings>>(
          {},
          { conductivity: "mg/L", volume: "gal", temperature: "degF" },
          { conductivity: "mg/L", numbers: "de-DE" },
          { volume: "gal", temperature: "degF", numbers: "de-DE" },
        ),
        fc.double({ min: 0.3, max: 1, noNaN: true }),
        ([digits, decimals], shown, chosen, solids) => {
          choose({ ...usual, ...chosen });
          line.value = { solids } as typeof line.value;
          const value = digits / 10 ** decimals;
          const sign = chosen.numbers === "de-DE" ? "," : ".";
          const text = String(value).replace(".", sign);
          const read = numberOf(text);
          expect(read).toBe(value);
          // What is sent is a number of the gateway's unit, as JSON carries it.
          const sent = JSON.parse(JSON.stringify(fromShown(shown, value))) as number;
          expect(Number(toShown(shown, sent).toPrecision(12))).toBe(value);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("the form of numbers", () => {
  it.each([
    ["en-GB", "12,880", "0.62", "41.3", "1413"],
    ["de-DE", "12.880", "0,62", "41,3", "1413"],
    ["fr-FR", "12\u202f880", "0,62", "41,3", "1413"],
  ] as const)("%s", (numbers, thousands, small, middle, four) => {
    choose({ numbers });
    expect([figure(12_880), figure(0.62), figure(41.27), asSet(1413)]).toEqual([
      thousands,
      small,
      middle,
      four,
    ]);
    expect(whole(1.5, 1)).toBe(numbers === "en-GB" ? "1.5" : "1,5");
  });

  it("takes comma and point, and refuses what its own thousands make ambiguous", () => {
    expect(["0.8", "0,8", "1413", ".5", "−2", "1.413"].map(numberOf)).toEqual([
      0.8, 0.8, 1413, 0.5, -2, 1.413,
    ]);
    expect(["1,413", "12,880", "1,2,3", "1 413", "a", ""].map(numberOf)).toEqual(Array(6).fill(null));
    choose({ numbers: "de-DE" });
    expect(["0,8", "1,413", "0.8"].map(numberOf)).toEqual([0.8, 1.413, 0.8]);
    expect(["1.413", "12.880"].map(numberOf)).toEqual([null, null]);
  });
});
