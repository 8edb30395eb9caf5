/** One text of a catalogue, and where it stands. */
interface Leaf {
  readonly path: string;
  readonly text: string;
}

/** Every text of a catalogue; a function is called with names that show in what it gives. */
export function leavesOf(words: unknown, path = ""): readonly Leaf[] {
  if (typeof words === "string") return [{ path, text: words }];
  if (typeof words !== "object" || words === null) return [];
  return Object.entries(words).flatMap(([key, inner]) =>
    leavesOf(inner, path === "" ? key : `${path}.${key}`),
  );
}

/** The texts of two catalogues side by side. */
export function differencesOf(one: unknown, other: unknown) {
  const others = new Map(leavesOf(other).map(({ path, text }) => [path, text]));
  return leavesOf(one).flatMap(({ path, text }) => {
    const there = others.get(path);
    return there === undefined || text === "" ? [] : [{ path, one: text, other: there }];
  });
}

// Words that no German sentence has; what stands in braces, in quotation marks or in a command is left out.
const english = new Set(
  "the is are of and not this that with from has have water drum your you here when again look seen since last now".split(
    " ",
  ),
);

/** Whether a text has an English word in it. */
export const englishIn = (text: string): boolean =>
  text
    .replaceAll(/\{[^}]*\}|"[^"]*"|drumlin(\/\S*| \w+ \w+ \w+)|\b[a-z]+:\/\/\S+/g, " ")
    .split(/[^\p{L}]+/u)
    .some((word) => english.has(word.toLowerCase()));
