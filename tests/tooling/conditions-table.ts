// node tests/tooling/conditions-table.ts
// Writes what follows from the files of the conditions: the list of rows, the lists of their words, the README's table.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { ConditionDescription } from "@drumlin/gateway/alarms";
import { writeLists } from "./condition-lists.ts";

const readme = fileURLToPath(new URL("../../README.md", import.meta.url));
const begin = "<!-- conditions: written by tests/tooling/conditions-table.ts -->";
const end = "<!-- end of conditions -->";

const columns = ["condition", "of a", "told when", "attention", "the line file may set"] as const;

function rowsOf(conditions: readonly ConditionDescription[]): readonly (readonly string[])[] {
  return conditions.map(({ id, subjects, when, attention, settings }) => [
    `\`${id}\``,
    subjects.join(", "),
    when,
    attention,
    [...settings].map(([name, what]) => `\`${name}\` (${what})`).join(", ") || "–",
  ]);
}

/** The table of conditions, in Markdown. Not padded: that made two thirds of the README. */
export function conditionsTable(conditions: readonly ConditionDescription[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(columns), line(columns.map(() => "---")), ...rowsOf(conditions).map(line)].join("\n");
}

/** A text with the table between its marks as it is now. Throws where there are no marks. */
export function withTable(text: string, conditions: readonly ConditionDescription[]): string {
  const [from, to] = [text.indexOf(begin), text.indexOf(end)];
  if (from === -1 || to < from) throw new Error(`The README has no marks "${begin}" and "${end}".`);
  return `${text.slice(0, from + begin.length)}\n\n${conditionsTable(conditions)}\n\n${text.slice(to)}`;
}

/** The README as it is. */
export const readReadme = (): string => readFileSync(readme, "utf8");

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeLists();
  // Only now: a condition that is new is in the lists.
  const { describeConditions } = await import("@drumlin/gateway/alarms");
  const is = readReadme();
  const should = withTable(is, describeConditions());
  if (is !== should) writeFileSync(readme, should);
}
