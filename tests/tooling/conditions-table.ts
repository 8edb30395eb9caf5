// node tests/tooling/conditions-table.ts   writes the table of conditions into the README, from their rows.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describeConditions } from "@drumlin/gateway/alarms";

const readme = fileURLToPath(new URL("../../README.md", import.meta.url));
const begin = "<!-- conditions: written by tests/tooling/conditions-table.ts -->";
const end = "<!-- end of conditions -->";

const columns = ["condition", "of a", "told when", "attention", "the line file may set"] as const;

function rowsOf(): readonly (readonly string[])[] {
  return describeConditions().map(({ id, subjects, when, attention, settings }) => [
    `\`${id}\``,
    subjects.join(", "),
    when,
    attention,
    [...settings].map(([name, what]) => `\`${name}\` (${what})`).join(", ") || "–",
  ]);
}

/** The table of conditions, in Markdown. */
export function conditionsTable(): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(columns), line(columns.map(() => "---")), ...rowsOf().map(line)].join("\n");
}

/** A text with the table between its marks as it is now. Throws where there are no marks. */
export function withTable(text: string): string {
  const [from, to] = [text.indexOf(begin), text.indexOf(end)];
  if (from === -1 || to < from) throw new Error(`The README has no marks "${begin}" and "${end}".`);
  return `${text.slice(0, from + begin.length)}\n\n${conditionsTable()}\n\n${text.slice(to)}`;
}

/** The README as it is. */
export const readReadme = (): string => readFileSync(readme, "utf8");

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(readme, withTable(readReadme()));
