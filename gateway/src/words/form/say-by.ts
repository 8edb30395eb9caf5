import { fillIn } from "./fill-in.ts";
import { patternOf } from "./pattern-of.ts";

/** Sentences of one language beside those of another, with the same names in their braces. */
export type Pairs = readonly (readonly [from: string, to: string])[];

interface Readers {
  /** Pairs without braces: whole sentences, and words that may stand in another one's braces. */
  readonly plain: ReadonlyMap<string, string>;
  readonly filled: readonly (ReturnType<typeof patternOf> & { readonly to: string })[];
}
const readersOf = new WeakMap<Pairs, Readers>();

function readersFor(pairs: Pairs): Readers {
  const known = readersOf.get(pairs);
  if (known) return known;
  const readers = {
    plain: new Map(pairs.filter(([from]) => !/\{\w+\}/.test(from))),
    filled: pairs.filter(([from]) => /\{\w+\}/.test(from)).map(([from, to]) => ({ ...patternOf(from), to })),
  };
  readersOf.set(pairs, readers);
  return readers;
}

/**
 * A text in the other language: of its own pair, else of the first one whose braces it fills. What stands in a brace is
 * said in that language where it has a pair itself. A text that no pair knows stays as it came.
 */
export function sayBy(pairs: Pairs, text: string): string {
  const { plain, filled } = readersFor(pairs);
  const whole = plain.get(text);
  if (whole !== undefined) return whole;
  for (const { pattern, names, to } of filled) {
    const found = pattern.exec(text);
    if (!found) continue;
    const said = (value: string) => plain.get(value) ?? value;
    return fillIn(to, Object.fromEntries(names.map((name, at) => [name, said(found[at + 1] as string)])));
  }
  return text;
}
