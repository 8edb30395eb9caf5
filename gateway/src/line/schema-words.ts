import type { z } from "zod";
import { exampleAt } from "./reference/example-at.ts";

/** What a key takes, in words, by the schema's name for it. */
const takes: Readonly<Record<string, string>> = {
  string: "a text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list in [ ]",
  record: "names, each with what belongs to it",
  object: "keys with what belongs to them",
};

function kindOf(value: unknown): string {
  if (value === null || value === undefined) return "nothing";
  if (Array.isArray(value)) return "a list";
  return typeof value === "object" ? "keys" : (takes[typeof value] ?? "something else");
}

/** Whether the schema's own text is ours: the library's begin with what is wrong in its terms. */
const isOurs = (message: string): boolean =>
  !/^(Invalid|Too |Unrecognized|Expected|Number must)/.test(message);

/** What is wrong at a place, as one would say it to the person who wrote the file. `words` names the place, `value` stands there. */
export function schemaMessage(issue: z.core.$ZodIssue, words: string, value: unknown): string {
  const where = words === "" ? "The file" : words;
  if (issue.code === "invalid_key") return `"${String(issue.path.at(-1))}" can't be a name.`;
  if (isOurs(issue.message)) return `${where}: ${issue.message}.`;
  if (issue.code === "invalid_type" && kindOf(value) !== takes[issue.expected])
    return `${where} takes ${takes[issue.expected] ?? issue.expected}; ${kindOf(value)} stands here.`;
  if (issue.code === "too_big" && typeof value === "number")
    return `${where} is ${value}; ${issue.maximum} is the most.`;
  if (issue.code === "too_small" && typeof value === "number")
    return `${where} is ${value}; ${issue.inclusive ? "" : "more than "}${issue.minimum} is the least.`;
  return typeof value === "object"
    ? `${where} can't be as it stands here.`
    : `${where} can't be ${JSON.stringify(value)}.`;
}

/** How it is written, as the reference shows it. */
export function schemaExample(path: readonly PropertyKey[]): string {
  const example = exampleAt(path);
  return example === null ? "See the smallest line file in the README." : `For example: ${example}`;
}
