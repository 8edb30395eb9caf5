import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Plugin } from "vite";

const area = /export const (\w+)(?:: [^=]+)? = \{\n/;
/** The names of an area's words stand two spaces in; what stands deeper keeps its name. */
const name = /^ {2}"?(\w+)"?:/gm;
const listed = /\/words\/(?:en|de)\/[\w-]+\.ts$/;
const listOfAreas = /\/words\/(?:en|de)\/index\.ts$/;
/** Areas whose words are taken by a name that is only known while the page runs. */
const byName = ["frame", "moreWords"];

const letters = "abcdefghijklmnopqrstuvwxyz";
const short = (index: number): string => {
  const last = letters[index % letters.length] ?? "";
  return index < letters.length ? last : `${short(Math.floor(index / letters.length) - 1)}${last}`;
};

interface ShortArea {
  readonly name: string;
  /** Short names by the words' own; null where each keeps its own. */
  readonly words: ReadonlyMap<string, string> | null;
}

/** The areas of the page's own words, by their names in the English lists. */
function shortAreas(folder: string): ReadonlyMap<string, ShortArea> {
  const lists = readdirSync(folder).filter((file) => file !== "index.ts");
  const found = lists.map((file, index): [string, ShortArea] => {
    const text = readFileSync(join(folder, file), "utf8");
    const own = area.exec(text)?.[1] ?? file;
    const words = [...text.matchAll(name)].map((match) => match[1] ?? "");
    const names = new Map(words.map((word, at) => [word, short(at)]));
    return [own, { name: short(index), words: byName.includes(own) ? null : names }];
  });
  return new Map(found);
}

/**
 * The build calls each of the page's words by one or two letters, and each area of them: a name that says what it is for
 * weighs about half as much as the word. What is taken otherwise than as `w.area.name` fails the build.
 */
export function shortWords(): Plugin {
  let areas: ReadonlyMap<string, ShortArea> = new Map();
  const shortOf = (own: string, word: string): string => {
    const words = areas.get(own)?.words;
    const found = words ? words.get(word) : word;
    if (!found) throw new Error(`w.${own} is taken otherwise than as w.${own}.name: ${word || "no name"}.`);
    return found;
  };
  const inList = (code: string): string => {
    const own = area.exec(code)?.[1] ?? "";
    return code.replaceAll(name, (_, word: string) => `  ${shortOf(own, word)}:`);
  };
  const inAreas = (code: string): string =>
    code.replaceAll(/^export \{ (\w+) \}/gm, (whole, own: string) => {
      const named = areas.get(own)?.name;
      return named ? `export { ${own} as ${named} }` : whole;
    });
  const taken = (code: string): string =>
    code.replaceAll(/\bw\.(\w+)(?:\s*\.(\w+))?/g, (whole, own: string, word = "") => {
      const found = areas.get(own);
      if (!found) return whole;
      return found.words ? `w.${found.name}.${shortOf(own, word)}` : whole.replace(own, found.name);
    });
  return {
    name: "short-words",
    apply: "build",
    enforce: "pre",
    configResolved({ root }) {
      areas = shortAreas(join(root, "src/words/en"));
    },
    transform(code, id) {
      if (!id.includes("/monitor-ui/src/")) return null;
      const to = listOfAreas.test(id) ? inAreas : listed.test(id) ? inList : taken;
      return { code: to(code), map: null };
    },
  };
}
