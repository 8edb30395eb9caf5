import type { z } from "zod";
import { keysAt, keysOfTheFile } from "./file-keys.ts";
import type { LineFault } from "./line.ts";
import type { LocatedYaml } from "./locate.ts";
import { nearestWord } from "./nearest-word.ts";
import { schemaExample, schemaMessage } from "./schema-words.ts";

/** Faults that are told of one file: finding what was meant takes time, and nobody reads more. */
export const maxFaults = 200;

/** What the schema has to say of a file, as located faults. */
export function faultsOf(issue: z.core.$ZodIssue, located: LocatedYaml): LineFault[] {
  const { path } = issue;
  const missing = path.length > 0 && path.reduce(inside, located.value) === undefined;
  const words = path.map(String).join(".");
  if (issue.code === "unrecognized_keys") {
    // Told by `strangeKeys`, which finds it in tables of names too.
    const keys = issue.keys.filter((key) => key !== prototypeKey).slice(0, maxFaults);
    return keys.map((key) => keyUnknown([...path, key], located));
  }
  if (issue.code === "invalid_union" && !missing) {
    // The text form and the map form of one thing: tell of the form that was tried.
    const deepest = issue.errors.flat().sort((a, b) => b.path.length - a.path.length)[0];
    if (
      deepest &&
      (deepest.path.length > 0 || deepest.code === "unrecognized_keys" || deepest.code === "invalid_format")
    ) {
      return faultsOf({ ...deepest, path: [...path, ...deepest.path] } as z.core.$ZodIssue, located);
    }
  }
  return [
    {
      code: missing ? "key-missing" : "value-not-allowed",
      severity: "error",
      ...located.at(path),
      path: words,
      message: missing
        ? `"${words}" is missing.`
        : schemaMessage(issue, words, path.reduce(inside, located.value)),
      instead: insteadOf(issue, missing),
    },
  ];
}

/** Most keys that are listed where one is wrong. */
const maxListed = 24;

/** What to write where a key does not belong: the one that was meant, else those that may stand there. */
function insteadOfKey(path: readonly PropertyKey[]): string {
  const key = String(path.at(-1));
  const allowed = keysAt(path.slice(0, -1));
  const near = nearestWord(key, allowed);
  if (near !== null) return `Did you mean "${near}"?`;
  const elsewhere = nearestWord(key, keysOfTheFile());
  const list =
    allowed.length > 0 && allowed.length <= maxListed ? `Here may stand ${allowed.join(", ")}.` : "";
  if (elsewhere !== null && !allowed.includes(elsewhere))
    return `"${elsewhere}" belongs elsewhere. ${list}`.trim();
  return list === "" || key === prototypeKey ? "Leave it out." : list;
}

function keyUnknown(path: readonly PropertyKey[], located: LocatedYaml): LineFault {
  const key = String(path.at(-1));
  return {
    code: "key-unknown",
    severity: "error",
    ...located.at(path, true),
    path: path.map(String).join("."),
    message: `"${key}" is not a key that belongs here.`,
    instead: insteadOfKey(path),
  };
}

/** The one key that a schema leaves out in silence where any name may stand. */
const prototypeKey = "__proto__";

/** Keys that can't be names of anything, wherever they stand in the file. */
export function strangeKeys(located: LocatedYaml): LineFault[] {
  const faults: LineFault[] = [];
  const walk = (value: unknown, path: readonly PropertyKey[]): void => {
    if (typeof value !== "object" || value === null) return;
    for (const [key, inner] of Object.entries(value)) {
      const at = [...path, Array.isArray(value) ? Number(key) : key];
      if (key === prototypeKey) faults.push(keyUnknown(at, located));
      else walk(inner, at);
    }
  };
  walk(located.value, []);
  return faults;
}

function inside(value: unknown, step: PropertyKey): unknown {
  return typeof value === "object" && value !== null && Object.hasOwn(value, step)
    ? (value as Record<PropertyKey, unknown>)[step]
    : undefined;
}

/** What a name that can't be one might have been: "Fresh drum" is fresh-drum. Null where nothing is left of it. */
function nameFrom(text: string): string | null {
  const name = text
    .normalize("NFKD")
    .toLowerCase()
    .replaceAll(/[^a-z0-9-]+/g, "-")
    .replaceAll(/^-+|-+$/g, "")
    .slice(0, 63);
  return name === "" || name === text ? null : name;
}

/** "a, b or c". */
const listOf = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;

function insteadOf(issue: z.core.$ZodIssue, missing: boolean): string {
  if (issue.code === "invalid_value") return `Write ${listOf(issue.values.map(String))}.`;
  if (missing) return `Write "${String(issue.path.at(-1))}: …" here.`;
  const rule = issue.code === "invalid_key" ? issue.issues[0]?.message : undefined;
  const asName = nameFrom(String(issue.path.at(-1)));
  if (rule !== undefined && asName !== null) return `Write "${asName}": small letters, digits and hyphens.`;
  if (rule !== undefined) return `${rule.charAt(0).toUpperCase()}${rule.slice(1)}.`;
  return schemaExample(issue.path);
}
