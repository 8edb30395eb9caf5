import { bracesOf } from "@drumlin/gateway/words";
import { describe, expect, it } from "vitest";
import * as de from "../../../monitor-ui/src/words/de/index.ts";
import * as en from "../../../monitor-ui/src/words/en/index.ts";
import { differencesOf, englishIn, leavesOf } from "../words/catalogues.ts";

/** Words that are the same in both languages, as the trade has them. */
const agreed = new Set([
  "—",
  "Live",
  "Webhook",
  "Broker",
  "Name",
  "Gateway",
  "Start",
  "Alarm",
  "{title}, {role}",
  "{volume}",
  "{role} {state}",
  "{count} min",
  "{count} h",
  "{count} d",
  "{before} → {after}",
  "(you)",
]);

describe("the page's words", () => {
  it("are many, and none is empty in German where it says something in English", () => {
    const pairs = differencesOf(en, de);
    expect(pairs.length).toBeGreaterThan(700);
    expect(pairs.filter(({ other }) => other === "")).toEqual([]);
  });

  it("no German word is the English one, but for those that are agreed", () => {
    const same = differencesOf(en, de).filter(({ one, other }) => one === other && !agreed.has(one));
    expect(same).toEqual([]);
  });

  it("no English is left in the German", () => {
    // Faults of the line file stand beside the English that they are known by.
    const own = leavesOf(de).filter(({ path }) => !path.startsWith("lineFaults."));
    expect(own.filter(({ text }) => englishIn(text))).toEqual([]);
  });

  it("both fill in the same names", () => {
    const apart = differencesOf(en, de).filter(
      ({ path, one, other }) =>
        // A German night is named by the morning that it leads to.
        path !== "nightWords.title" &&
        path !== "nightWords.nights.one" &&
        bracesOf(one).join() !== bracesOf(other).join(),
    );
    expect(apart).toEqual([]);
  });

  it("no sentence is said by halves: what has braces has them closed", () => {
    const own = [...leavesOf(en), ...leavesOf(de)].filter(
      ({ path }) => !path.startsWith("codes.") && !path.startsWith("lineFaults."),
    );
    for (const { text } of own) expect(text.replaceAll(/\{\w+\}/g, "")).not.toMatch(/[{}]/);
  });
});
