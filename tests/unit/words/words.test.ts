import { conditionRows } from "@drumlin/gateway/alarms";
import { alarmSchema, fillSchema, pointSchema, quantitySchema, stageSchema } from "@drumlin/gateway/contract";
import { everyCodeIn } from "@drumlin/gateway/http";
import {
  bracesOf,
  counted,
  headlineIn,
  languages,
  readSentence,
  type SentenceCode,
  say,
  sentenceIn,
  sentences,
  wordsIn,
} from "@drumlin/gateway/words";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { differencesOf, englishIn, leavesOf } from "./catalogues.ts";

const en = wordsIn("en");
const de = wordsIn("de");

describe("the words of the gateway, in each language", () => {
  it("every condition has its words, and says what to do first", () => {
    for (const language of languages)
      for (const { id } of conditionRows) {
        const { title, headline, cause, consequence, response } = wordsIn(language).conditions[id];
        for (const text of [title, headline, cause, consequence, response]) expect(text).not.toBe("");
      }
    // And none is left over of a condition that is gone.
    expect(Object.keys(en.conditions).sort()).toEqual(conditionRows.map(({ id }) => id as string).sort());
  });

  it("what is left to look at once a condition is over is nothing that hurries, and what can still hurt stays said", () => {
    const hurries =
      /\bnow\b|\bclose the|\bstop the fill|\bswitch off|\bstay with fills|\bjetzt\b|Zulauf\S* (von Hand )?(ab|schl)|Füllung beenden|Sicherung ausschalten|dabeibleiben, bis/i;
    const hurried = new Set<string>();
    for (const language of languages)
      for (const { id } of conditionRows) {
        const { response, after } = wordsIn(language).conditions[id];
        expect([id, after]).toEqual([id, expect.stringMatching(/^\p{Lu}.+\.$/u)]);
        expect([id, hurries.exec(after)?.[0]]).toEqual([id, undefined]);
        expect(after).not.toBe(response);
        if (hurries.test(response)) hurried.add(id);
      }
    // What the look finds nothing in, it would find in what is said while they stand.
    expect([...hurried].sort()).toEqual(
      expect.arrayContaining(["drum-high-high", "drum-not-stopping", "floor-wet", "resin-breakthrough"]),
    );
    for (const id of ["drum-high-high", "drum-not-stopping", "floor-wet", "drum-leaking"] as const) {
      expect(en.conditions[id].after).toMatch(/wet/);
      expect(de.conditions[id].after).toMatch(/nass/);
    }
  });

  it("every closed word of the contract has its words", () => {
    const { state, judged, attention } = alarmSchema.shape;
    for (const words of [en, de]) {
      expect(Object.keys(words.alarmStates).sort()).toEqual([...state.options].sort());
      expect(Object.keys(words.attentions).sort()).toEqual([...attention.options].sort());
      expect(Object.keys(words.notJudged).sort()).toEqual([...judged.shape.because.unwrap().options].sort());
      expect(Object.keys(words.flagReasons).sort()).toEqual(
        [...quantitySchema.shape.reasons.element.options].sort(),
      );
    }
    expect([pointSchema, stageSchema, fillSchema].every((schema) => schema !== undefined)).toBe(true);
  });

  it("no German word is the English one, but for those that both languages share", () => {
    const agreed = new Set(["Gateway"]);
    expect(differencesOf(en, de).filter(({ one, other }) => one === other && !agreed.has(one))).toEqual([]);
    const titles = Object.entries(everyCodeIn.en).flatMap(([code, { title, todo }]) => {
      const german = everyCodeIn.de[code as keyof typeof everyCodeIn.de];
      return german.title === title || (german.todo === todo && todo !== "") ? [code] : [];
    });
    expect(titles).toEqual([]);
  });

  it("no English is left in the German", () => {
    const german = [...leavesOf(de), ...leavesOf(everyCodeIn.de)];
    expect(german.length).toBeGreaterThan(400);
    // Faults of the line file stand beside the English that they are known by; they have a test of their own.
    const own = german.filter(({ path }) => !path.startsWith("lineFaults."));
    expect(own.filter(({ text }) => englishIn(text))).toEqual([]);
  });

  it("both fill in the same names", () => {
    const apart = differencesOf(en, de).filter(
      ({ one, other }) => bracesOf(one).join() !== bracesOf(other).join(),
    );
    expect(apart).toEqual([]);
  });

  it("every stable code has a title and what to do", () => {
    for (const language of languages)
      for (const { text } of leavesOf(everyCodeIn[language])) expect(text).not.toBe("");
  });
});

describe("a headline", () => {
  const drumLow = { condition: "drum-low", subject: "mix", text: "" };
  const titleOf = (id: string) => (id === "mix" ? "Mix drum" : id);
  it("begins with what it is about", () => {
    expect(headlineIn("en", drumLow, titleOf)).toBe("Mix drum: nearly empty");
    expect(headlineIn("de", drumLow, titleOf)).toBe("Mix drum: fast leer");
    expect(headlineIn("en", { condition: "node-silent", subject: "mix", text: "" }, titleOf)).toBe(
      "Node mix: silent",
    );
    expect(headlineIn("de", { condition: "clock-wrong", subject: "gateway", text: "" }, titleOf)).toBe(
      "Gateway: Uhr geht falsch",
    );
  });

  it("of a condition without words says the gateway's own", () => {
    expect(headlineIn("de", { ...drumLow, condition: "__proto__", text: "Something else" }, titleOf)).toBe(
      "Mix drum: something else",
    );
  });
});

describe("a sentence of the gateway", () => {
  const codes = Object.keys(sentences) as SentenceCode[];
  // What titles and figures can be; a title that holds the sentence's own words could be read in two ways.
  const value = fc.oneof(
    fc.double({ min: 0, max: 1e6, noNaN: true }),
    fc.string({ unit: fc.constantFrom("a", "ß", "K", "8", " ", "(", ")", ".", "*", "$"), minLength: 1 }),
  );

  it("is read back by its code, with what stood in it", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...codes),
        fc.array(value, { minLength: 3, maxLength: 3 }),
        (code, some) => {
          const values = Object.fromEntries(
            bracesOf(sentences[code]).map((name, i) => [name, some[i] as string]),
          );
          const said = readSentence(say(code, values));
          expect(said?.code).toBe(code);
          expect(say(code, said?.values)).toBe(say(code, values));
        },
      ),
      { numRuns: 300 },
    );
  });

  it("a name of digits is a name, not a figure", () => {
    const said = say("unseen-one-node", { node: "007" });
    expect(readSentence(said)?.values).toEqual({ node: "007" });
    expect(sentenceIn("de", said)).toContain("007");
    expect(readSentence(say("last-operator", { name: "1000" }))?.values).toEqual({ name: "1000" });
  });

  it("is said in German, with German figures; what has no code stays", () => {
    expect(sentenceIn("de", "water over the limit of 5.5 µS/cm came in (After resin)")).toBe(
      "Wasser über dem Grenzwert von 5,5 µS/cm ist zugelaufen (After resin)",
    );
    expect(sentenceIn("de", "something newer")).toBe("something newer");
    expect(sentenceIn("en", "It is 5.")).toBe("It is 5.");
  });

  it("counts by the language's plurals", () => {
    const said = [1, 2, 0].map((count) => counted("de", de.messages.alarms, count));
    expect(said).toEqual(["1 Alarm", "2 Alarme", "0 Alarme"]);
    expect(counted("en", en.messages.alarms, 1)).toBe("1 alarm");
  });
});
