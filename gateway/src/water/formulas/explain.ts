import type { z } from "zod";
import { rangeText, unitText } from "../../quantities/index.ts";
import type { FieldShape } from "./field.ts";

/** Ends beyond which a range is no range but what a computer can hold. */
const anyNumber = 1e12;
const valuesText = (count: number) => (count === 1 ? "1 value" : `${count} values`);
/** Most refused inputs that one message tells of. */
const maxTold = 5;

const pathText = (path: readonly PropertyKey[]) =>
  path.map((step) => (typeof step === "number" ? `item ${step + 1}` : String(step))).join(", ");

function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (inner, step) => (inner as Record<PropertyKey, unknown> | undefined)?.[step],
    value,
  );
}

function shapeAt(shapes: ReadonlyMap<string, FieldShape>, path: readonly PropertyKey[]): FieldShape | null {
  const [name, ...rest] = path;
  let shape = shapes.get(String(name)) ?? null;
  for (const step of rest)
    shape = (typeof step === "number" ? shape?.item : shape?.fields.get(String(step))) ?? null;
  return shape;
}

/** What a field takes, as a sentence goes on with "it must be": "from 0 to 35.9 Cel", "true or false". */
function wantedText(shape: FieldShape, value: unknown): string {
  switch (shape.kind) {
    case "number":
      // The end of what is taken matters only to who gave a number.
      if (typeof value !== "number" && shape.min <= -anyNumber && shape.max >= anyNumber) return "a number";
      return `${shape.whole ? "a whole number " : ""}${rangeText(shape.min, shape.max, shape.unit ?? "1")}`;
    case "words":
      return `one of ${shape.words.join(", ")}`;
    case "flag":
      return "true or false";
    case "list":
      return `a list of ${countText(shape)}`;
    case "record":
      return `an object of ${[...shape.fields.keys()].join(", ")}`;
    case "text":
      return "a text";
  }
}

/** "1 to 1000 values", "3 values". */
function countText({ fewest, most }: FieldShape): string {
  return fewest === most ? valuesText(most) : `${fewest} to ${valuesText(most)}`;
}

function shown(value: unknown): string {
  if (typeof value === "number") return String(value);
  if (value === null) return "null";
  if (typeof value === "string") return `"${value.slice(0, 40)}"`;
  if (typeof value === "boolean") return String(value);
  return Array.isArray(value) ? "a list" : "an object";
}

function wrongText(shape: FieldShape, value: unknown): string {
  if (Array.isArray(value) && shape.kind === "list") return `has ${valuesText(value.length)}`;
  if (typeof value === "number" && !Number.isFinite(value)) return "is no finite number";
  const unit = typeof value === "number" ? unitText(shape.unit ?? "1") : "";
  return `is ${shown(value)} ${unit}`.trimEnd();
}

/** Smallest number of letters to change, add or leave out (Levenshtein), for "did you mean". */
function distance(one: string, other: string): number {
  let row = Array.from({ length: other.length + 1 }, (_, place) => place);
  for (const [above, letter] of [...one].entries()) {
    const next = [above + 1];
    for (const [left, against] of [...other].entries())
      next.push(
        Math.min(
          (next[left] as number) + 1,
          (row[left + 1] as number) + 1,
          (row[left] as number) + (letter === against ? 0 : 1),
        ),
      );
    row = next;
  }
  return row.at(-1) ?? 0;
}

/** The name that was probably meant; undefined where none is near. */
export function nearestOf(given: string, names: readonly string[]): string | undefined {
  const [nearest] = names
    .map((name) => ({ name, letters: distance(given.toLowerCase(), name.toLowerCase()) }))
    .sort((one, other) => one.letters - other.letters);
  return nearest && nearest.letters <= Math.max(1, given.length / 3) ? nearest.name : undefined;
}

function unknownText(key: string, path: readonly PropertyKey[], names: readonly string[]): string {
  const nearest = nearestOf(key.slice(0, 40), names);
  const meant = nearest === undefined ? "" : ` Is ${nearest} meant?`;
  const owner = path.length === 0 ? "" : `${pathText(path)}: `;
  return `${owner}"${key.slice(0, 40)}" is none of its inputs; they are ${names.join(", ")}.${meant}`;
}

function issueText(
  issue: z.core.$ZodIssue,
  given: unknown,
  shapes: ReadonlyMap<string, FieldShape>,
): string[] {
  const shape = shapeAt(shapes, issue.path);
  if (issue.code === "unrecognized_keys") {
    const names = [...(issue.path.length === 0 ? shapes : (shape?.fields ?? new Map())).keys()] as string[];
    return issue.keys.map((key) => unknownText(key, issue.path, names));
  }
  const name = pathText(issue.path);
  if (!shape) return [`${name}: ${issue.message}.`];
  const value = valueAt(given, issue.path);
  if (value === undefined) {
    const about = shape.description === "" ? "" : ` (${shape.description})`;
    return [`${name}${about} is missing; it must be ${wantedText(shape, value)}.`];
  }
  return [`${name} ${wrongText(shape, value)}; it must be ${wantedText(shape, value)}.`];
}

/** What was wrong with the inputs, in words: which, what it was, and what it must be. */
export function explainIssues(
  issues: readonly z.core.$ZodIssue[],
  given: unknown,
  shapes: ReadonlyMap<string, FieldShape>,
): string {
  const texts = issues.flatMap((issue) => issueText(issue, given, shapes));
  const rest = texts.length - maxTold;
  return `${texts.slice(0, maxTold).join(" ")}${rest > 0 ? ` And ${rest} more.` : ""}`;
}
