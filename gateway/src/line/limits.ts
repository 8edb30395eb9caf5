import { z } from "zod";
import type { LimitValue, Line } from "./line.ts";
import { nearestWord } from "./nearest-word.ts";
import type { LineFile } from "./schema.ts";
import { idsByKind, type ThingKind } from "./things.ts";

type Complain = (code: string, path: readonly PropertyKey[], message: string, instead: string) => void;

/** What a line file may set of one condition. */
export interface LimitRule {
  /**
   * The settings by name, each of which may be left out: defaults are the condition's own. What a setting is described
   * as stands in the fault of one that is wrong: "Write {description}.".
   */
  readonly settings: z.ZodObject;
  /** What it is judged of, in `condition:subject`; "site" where there is one only, and no subject is named. */
  readonly subjects: readonly (ThingKind | "site")[];
}

/** The rule of each condition, by its id. */
export type LimitRules = ReadonlyMap<string, LimitRule>;

const limitAlone: LimitRule = {
  settings: z.strictObject({ limit: z.number().positive().describe("a number over 0").optional() }),
  subjects: ["point", "drum"],
};

/** Conditions that a line file may set limits of where nobody hands in rules. */
const limitableConditions = ["resin-breakthrough", "drum-high-high", "drum-not-stopping"] as const;

/** Rules where nobody hands in any: one limit, of a point or drum. */
export const usualRules: LimitRules = new Map(limitableConditions.map((id) => [id, limitAlone]));

function anyOf(names: readonly string[]): string {
  if (names.length === 0) return "Nothing of it can be set: leave it out.";
  return names.length === 1 ? `Write ${names[0]}.` : `Write one of ${names.join(", ")}.`;
}

/** "Did you mean …?", else what is allowed. */
function guess(word: string, allowed: readonly string[]): string {
  const meant = nearestWord(word, allowed);
  return meant === null ? anyOf(allowed) : `Did you mean ${meant}?`;
}

/** What a setting is described as, also inside of `optional`; undefined where it is not. */
function descriptionOf(setting: unknown): string | undefined {
  let inner = setting;
  while (inner instanceof z.ZodOptional || inner instanceof z.ZodDefault) inner = inner.unwrap();
  return inner instanceof z.ZodType ? inner.description : undefined;
}

/** The settings of one condition as they stand in the file. */
interface Settings {
  readonly condition: string;
  readonly path: readonly PropertyKey[];
  readonly values: LineFile["limits"][string];
}

function complainOfSetting(
  { settings }: LimitRule,
  { condition, path, values }: Settings,
  issue: z.core.$ZodIssue,
  complain: Complain,
): void {
  if (issue.code === "unrecognized_keys") {
    const allowed = Object.keys(settings.shape);
    for (const key of issue.keys)
      complain("setting-unknown", [...path, key], `${condition} has no ${key} to set.`, guess(key, allowed));
    return;
  }
  const [name] = issue.path;
  if (name === undefined) {
    complain("settings-contradict", path, `${condition}: ${issue.message}.`, "Change one of them.");
    return;
  }
  const wanted = descriptionOf(settings.shape[String(name)]);
  complain(
    name === "limit" ? "limit-not-a-number" : "setting-not-allowed",
    [...path, name],
    `${String(name)} of ${condition} can't be ${JSON.stringify(values[String(name)])}.`,
    wanted === undefined ? "See the README's table of conditions." : `Write ${wanted}.`,
  );
}

/** The limits of a file by their rules, read; complains of conditions and settings that are not to be set. */
export function readLimits({ limits }: LineFile, rules: LimitRules, complain: Complain): Line["conditions"] {
  const read = new Map<string, Readonly<Record<string, LimitValue>>>();
  for (const [key, values] of Object.entries(limits)) {
    const condition = conditionOf(key);
    const path = ["limits", key];
    const rule = rules.get(condition);
    if (!rule) {
      const known = [...rules.keys()];
      complain("condition-unknown", path, `There is no condition ${condition}.`, guess(condition, known));
      continue;
    }
    const result = rule.settings.strict().safeParse(values, { reportInput: false });
    if (result.success) read.set(key, result.data as Readonly<Record<string, LimitValue>>);
    else
      for (const issue of result.error.issues)
        complainOfSetting(rule, { condition, path, values }, issue, complain);
  }
  return read;
}

/** Complains of limits of things that the line does not have. */
export function checkLimitSubjects(line: Line, rules: LimitRules, file: LineFile, complain: Complain): void {
  const ids = idsByKind(line);
  for (const key of Object.keys(file.limits)) {
    const condition = conditionOf(key);
    const rule = rules.get(condition);
    const subject = subjectOf(key);
    if (!rule || subject === null) continue;
    const known = rule.subjects.flatMap((kind) =>
      kind === "site" ? [] : [...(ids.get(kind) ?? [])].map(nameInKey),
    );
    if (known.includes(subject)) continue;
    const kinds = rule.subjects.filter((kind) => kind !== "site").join(" or ");
    const meant = nearestWord(subject, known);
    complain(
      "subject-unknown",
      ["limits", key],
      known.length === 0 && kinds === "" ? `${condition} has no subject.` : `The line has no ${subject}.`,
      meant !== null
        ? `Did you mean ${meant}?`
        : kinds === ""
          ? `Write ${condition} alone.`
          : `Name a ${kinds} of this file.`,
    );
  }
}

/** As keys of alarms name it: the parts of a channel are joined by a dot. */
const nameInKey = (id: string): string => id.replace("/", ".");

function conditionOf(key: string): string {
  const colon = key.indexOf(":");
  return colon === -1 ? key : key.slice(0, colon);
}

function subjectOf(key: string): string | null {
  const colon = key.indexOf(":");
  return colon === -1 ? null : key.slice(colon + 1);
}

/** What is set of a condition and subject: for it alone, else for all of that condition. Empty where nothing is. */
export function settingsOf(
  { conditions }: Pick<Line, "conditions">,
  condition: string,
  subject: string,
): Readonly<Record<string, LimitValue>> {
  return { ...conditions.get(condition), ...conditions.get(`${condition}:${nameInKey(subject)}`) };
}
