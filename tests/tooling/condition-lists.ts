// The list of rows and the lists of their words, as they follow from the files of the conditions; conditions-table.ts writes
// them. A new condition comes to the end of the list of rows; whoever moves it there is not undone.
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";

const gateway = new URL("../../gateway/src/", import.meta.url);
const registry = "alarms/registry.ts";
const languages = ["en", "de"] as const;
const written = "// Written by tests/tooling/conditions-table.ts.\n";

const namesIn = (folder: string): readonly string[] =>
  readdirSync(new URL(folder, gateway))
    .map((file) => file.replace(/\.ts$/, ""))
    .sort();
/** Rows of `alarms/conditions/`; what several of them share is called `…-row`. */
const rowIds = (): readonly string[] => namesIn("alarms/conditions/").filter((id) => !id.endsWith("-row"));

const constOf = (id: string): string => id.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());

/** The ids as they are listed now, then those that are new. */
function inOrder(ids: readonly string[]): readonly string[] {
  const path = new URL(registry, gateway);
  const listed = existsSync(path) ? [...readFileSync(path, "utf8").matchAll(/^ {2}(\w+),$/gm)] : [];
  const known = listed.flatMap(([, name]) => ids.find((id) => constOf(id) === name) ?? []);
  return [...known, ...ids.filter((id) => !known.includes(id))];
}

function registryText(ids: readonly string[]): string {
  const imports = ids.map((id) => `import { ${constOf(id)} } from "./conditions/${id}.ts";\n`);
  const rows = inOrder(ids).map((id) => `  ${constOf(id)},\n`);
  return `${written}import type { AnyCondition } from "./condition.ts";
${imports.join("")}
/** Every condition that is judged, in the order in which a step judges them and lists show them. */
export const conditionRows: readonly AnyCondition[] = [
${rows.join("")}];
`;
}

function wordsText(ids: readonly string[], language: (typeof languages)[number]): string {
  const imports = ids.map(
    (id) => `import { ${language} as ${constOf(id)} } from "../conditions/${id}.ts";\n`,
  );
  const entries = ids.map((id) => (id === constOf(id) ? `  ${id},\n` : `  "${id}": ${constOf(id)},\n`));
  const list = `{\n${entries.join("")}};\n`;
  if (language === "en")
    return `${written}${imports.join("")}
/** English words of every condition. A row has its id from here: a condition without words is not built. */
export const conditions = ${list}
/** Every condition that has words. */
export type ConditionId = keyof typeof conditions;
`;
  return `${written}${imports.join("")}import type { ConditionId } from "../en/conditions.ts";
import type { ConditionText } from "../form/condition-text.ts";

/** The same in another language: one that says less is not built. */
export const conditions: Readonly<Record<ConditionId, ConditionText>> = ${list}`;
}

/** Every list as it follows from the folders, by its path under `gateway/src/`. Throws where a row has no words, or words no row. */
export function conditionLists(): ReadonlyMap<string, string> {
  const ids = rowIds();
  const worded = namesIn("words/conditions/");
  const apart = [...ids.filter((id) => !worded.includes(id)), ...worded.filter((id) => !ids.includes(id))];
  if (apart.length > 0)
    throw new Error(`Not both in alarms/conditions/ and in words/conditions/: ${apart.join(", ")}.`);
  return new Map([
    [registry, registryText(ids)],
    ...languages.map((language) => [`words/${language}/conditions.ts`, wordsText(ids, language)] as const),
  ]);
}

/** A list as it stands. */
export const listAsItIs = (path: string): string => readFileSync(new URL(path, gateway), "utf8");

/** Writes every list. */
export function writeLists(): void {
  for (const [path, text] of conditionLists()) writeFileSync(new URL(path, gateway), text);
}
