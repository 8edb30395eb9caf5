import type { z } from "zod";
import { buildLine } from "./build/build-line.ts";
import { findContradictions } from "./contradictions.ts";
import type { LineFault, LineResult } from "./line.ts";
import { type LocatedYaml, locatedYaml } from "./locate.ts";
import { nearestWord } from "./nearest-word.ts";
import { keysOfTheFile, type LineFile, lineFileSchema } from "./schema.ts";
import { warnLikeAColleague } from "./warnings.ts";

function faultsOf(issue: z.core.$ZodIssue, located: LocatedYaml): LineFault[] {
  const path = issue.path;
  const missing = path.length > 0 && path.reduce(inside, located.value) === undefined;
  const words = path.map(String).join(".");
  if (issue.code === "unrecognized_keys") {
    return issue.keys.map((key) => {
      const meant = nearestWord(key, keysOfTheFile());
      return {
        code: "key-unknown",
        severity: "error",
        ...located.at([...path, key], true),
        path: [words, key].filter(Boolean).join("."),
        message: `"${key}" is not a key that belongs here.`,
        instead: meant ? `Did you mean "${meant}"?` : "Leave it out.",
      };
    });
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
      message: missing ? `"${words}" is missing.` : `${words || "The file"}: ${issue.message}.`,
      instead: insteadOf(issue, missing),
    },
  ];
}

function inside(value: unknown, step: PropertyKey): unknown {
  return typeof value === "object" && value !== null && Object.hasOwn(value, step)
    ? (value as Record<PropertyKey, unknown>)[step]
    : undefined;
}

function insteadOf(issue: z.core.$ZodIssue, missing: boolean): string {
  if (issue.code === "invalid_value") return `Write ${issue.values.map(String).join(", ")}.`;
  if (missing) return `Write "${String(issue.path.at(-1))}: …" here.`;
  return "See the smallest line file in the README.";
}

function zoneKnown(zone: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}

/**
 * Reads a line file: every fault at once, each with line, column and what to write instead; warnings beside it.
 * `zone` is used where the file names no timezone. Never throws.
 */
export function readLine(text: string, zone = "UTC"): LineResult {
  const located = locatedYaml(text);
  if (located.faults.length > 0) return { ok: false, faults: located.faults };
  const shaped = lineFileSchema.safeParse(located.value, { reportInput: false });
  if (!shaped.success) {
    return {
      ok: false,
      faults: shaped.error.issues.flatMap((issue) => faultsOf(issue, located)).sort(byPlace),
    };
  }
  const faults: LineFault[] = [];
  const say =
    (severity: LineFault["severity"]) =>
    (code: string, path: readonly PropertyKey[], message: string, instead: string): void => {
      faults.push({
        code,
        severity,
        ...located.at(path),
        path: path.map(String).join("."),
        message,
        instead,
      });
    };
  const file: LineFile = shaped.data;
  if (file.timezone !== undefined && !zoneKnown(file.timezone)) {
    say("error")(
      "timezone-unknown",
      ["timezone"],
      `${file.timezone} is no time zone.`,
      "Write one such as Europe/Berlin.",
    );
  }
  if (Object.keys(file.points).length === 0)
    say("error")("no-points", ["points"], "The line has no point.", "Name at least the supply.");
  findContradictions(file, say("error"));
  const line = buildLine(file, zone, say("error"));
  if (faults.length > 0) return { ok: false, faults: faults.sort(byPlace) };
  warnLikeAColleague(line, file, say("warning"));
  return { ok: true, line, faults: faults.sort(byPlace) };
}

function byPlace(a: LineFault, b: LineFault): number {
  return a.line - b.line || a.column - b.column;
}
