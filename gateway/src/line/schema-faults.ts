import type { z } from "zod";
import type { LineFault } from "./line.ts";
import type { LocatedYaml } from "./locate.ts";
import { nearestWord } from "./nearest-word.ts";
import { keysOfTheFile } from "./schema.ts";

/** What the schema has to say of a file, as located faults. */
export function faultsOf(issue: z.core.$ZodIssue, located: LocatedYaml): LineFault[] {
  const { path } = issue;
  const missing = path.length > 0 && path.reduce(inside, located.value) === undefined;
  const words = path.map(String).join(".");
  if (issue.code === "unrecognized_keys") {
    // Told by `strangeKeys`, which finds it in tables of names too.
    const keys = issue.keys.filter((key) => key !== prototypeKey);
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
      message: missing ? `"${words}" is missing.` : messageOf(issue, words),
      instead: insteadOf(issue, missing),
    },
  ];
}

function keyUnknown(path: readonly PropertyKey[], located: LocatedYaml): LineFault {
  const key = String(path.at(-1));
  const meant = nearestWord(key, keysOfTheFile());
  return {
    code: "key-unknown",
    severity: "error",
    ...located.at(path, true),
    path: path.map(String).join("."),
    message: `"${key}" is not a key that belongs here.`,
    instead: meant ? `Did you mean "${meant}"?` : "Leave it out.",
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

function messageOf(issue: z.core.$ZodIssue, words: string): string {
  if (issue.code === "invalid_key") return `"${String(issue.path.at(-1))}" can't be a name.`;
  return `${words || "The file"}: ${issue.message}.`;
}

function insteadOf(issue: z.core.$ZodIssue, missing: boolean): string {
  if (issue.code === "invalid_value") return `Write ${issue.values.map(String).join(", ")}.`;
  if (missing) return `Write "${String(issue.path.at(-1))}: …" here.`;
  const rule = issue.code === "invalid_key" ? issue.issues[0]?.message : undefined;
  if (rule !== undefined) return `${rule.charAt(0).toUpperCase()}${rule.slice(1)}.`;
  return "See the smallest line file in the README.";
}
