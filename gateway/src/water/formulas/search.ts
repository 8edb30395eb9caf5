import type { z } from "zod";
import type { Formula } from "./formula.ts";
import { formulas } from "./registry.ts";
import { type TradeWord, tradeWords } from "./trade-words.ts";

/** Without capitals, signs and the difference of -ise and -ize. */
const plain = (text: string) =>
  text
    .toLowerCase()
    .replace(/[^a-z0-9%°]+/g, " ")
    .replaceAll("iz", "is")
    .trim();

/** What of a word must stand in a text: all of a short one; of a long one not its ending ("dechlorinate", "-ator"). */
const stemOf = (word: string) => (word.length >= 9 ? word.slice(0, -3) : word);

/** What a word of the trade means, however it is written ("ebct", "Specific-Conductance"); undefined for no such word. */
export function tradeWordOf(text: string): TradeWord | undefined {
  const asked = plain(text);
  return tradeWords.find(({ word }) => plain(word) === asked);
}

/** Words of the trade that lead to a formula. */
export function tradeWordsFor(id: string): readonly TradeWord[] {
  return tradeWords.filter((entry) => entry.formulas.includes(id));
}

function descriptionsOf(schema: z.ZodObject): string[] {
  return Object.entries(schema.shape).map(([name, field]) => {
    const { description = "" } = (field as z.ZodType).meta() ?? {};
    return `${name} ${description}`;
  });
}

/** What is written about a formula, from what names it to what only mentions it. */
function textsOf(formula: Formula): readonly string[] {
  const words = tradeWordsFor(formula.id).map(({ word, meaning }) => `${word} ${meaning}`);
  return [
    formula.id,
    `${formula.title} ${words.join(" ")}`,
    [
      formula.holds,
      formula.source,
      ...descriptionsOf(formula.inputs),
      ...descriptionsOf(formula.outputs),
    ].join(" "),
  ].map(plain);
}

/**
 * Formulas that a text leads to, the nearest first: those of a word of the trade, then those in whose name, title or
 * description every word of the text stands. A word of up to three letters must stand alone, a longer one may be a part.
 */
export function findFormulas(text: string): readonly Formula[] {
  const asked = plain(text)
    .split(" ")
    .filter((word) => word !== "");
  if (asked.length === 0) return [];
  const named = tradeWordOf(text)?.formulas ?? [];
  const standsIn = (word: string, written: string) =>
    word.length > 3 ? written.includes(stemOf(word)) : ` ${written} `.includes(` ${word} `);
  const rankOf = (formula: Formula): number => {
    const byWord = named.indexOf(formula.id);
    if (byWord >= 0) return byWord - named.length;
    const texts = textsOf(formula);
    return texts.findIndex((_text, place) =>
      asked.every((word) => texts.slice(0, place + 1).some((written) => standsIn(word, written))),
    );
  };
  return formulas
    .map((formula) => ({ formula, rank: rankOf(formula) }))
    .filter(({ formula, rank }) => rank >= 0 || named.includes(formula.id))
    .sort((one, other) => one.rank - other.rank)
    .map(({ formula }) => formula);
}
