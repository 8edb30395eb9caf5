import { lineKeyPhrases, lineKeys, lineNumberWords } from "../../words/index.ts";
import type { LineKey, LineKeySection } from "./key-text.ts";

const phrase = (text: string): string =>
  Object.hasOwn(lineKeyPhrases, text) ? (lineKeyPhrases[text] as string) : text;

/** What may be written: "number from 0.3 to 1 | nacl" is "Zahl von 0.3 bis 1 | nacl"; figures stay as the file has them. */
function takesOf(takes: string): string {
  const numbers = /^(whole number|number)(?: (from) (\S+) (to) (\S+)| (over) (\S+))?$/;
  return takes
    .split(" | ")
    .map((part) => {
      const found = numbers.exec(part);
      if (!found) return phrase(part);
      return found
        .slice(1)
        .filter((word) => word !== undefined)
        .map((word) => (Object.hasOwn(lineNumberWords, word) ? lineNumberWords[word as "from"] : word))
        .join(" ");
    })
    .join(" | ");
}

function keyOf(key: LineKey): LineKey {
  const german = Object.hasOwn(lineKeys, key.path) ? lineKeys[key.path] : undefined;
  return {
    ...key,
    takes: takesOf(key.takes),
    what: german?.what ?? key.what,
    unit: key.unit === null ? null : phrase(key.unit),
    otherwise: key.otherwise === null ? null : (german?.otherwise ?? key.otherwise),
  };
}

/** The reference of the line file in German; a key without German words keeps the English ones. */
export function inGerman(sections: readonly LineKeySection[]): readonly LineKeySection[] {
  return sections.map(({ title, keys }) => ({ title: phrase(title), keys: keys.map(keyOf) }));
}
