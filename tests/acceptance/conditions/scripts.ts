import { readdirSync, readFileSync } from "node:fs";
import { type LogScript, readLogScript } from "../log-script.ts";

const folder = new URL(".", import.meta.url);

/** The scripts of the conditions, by file: `resin-breakthrough.txt`, `resin-breakthrough.by-time.txt`. */
export const scripts: ReadonlyMap<string, LogScript> = new Map(
  readdirSync(folder)
    .filter((file) => file.endsWith(".txt"))
    .sort()
    .map((file) => [file, readLogScript(readFileSync(new URL(file, folder), "utf8"))] as const),
);

/** The scripts of one condition. */
export const scriptsOf = (condition: string): readonly (readonly [file: string, script: LogScript])[] =>
  [...scripts].filter(([file]) => file.startsWith(`${condition}.`));
