import { readFile } from "node:fs/promises";
import { readLineFile } from "../../alarms/index.ts";
import { guardFigures, nothingLearned } from "../../fills/index.ts";
import type { Line } from "../../line/index.ts";
import { say } from "../../words/index.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";
import { faultText } from "./fault-text.ts";

const help = `drumlin check FILE [--json]

Reads a line file and tells every fault with its line and column, and what to write instead; then warns as a
colleague would (an overflow nobody can reach in time, a limit that the probe can't see, …), and says of each drum what
guards it, in figures, and what could pass unseen.
Exit: 0 nothing wrong (warnings may stand), 1 faults found, 2 usage.`;

/** What guards each drum, by the file alone: before any fill was seen. */
function guardsOf(line: Line) {
  const known = {
    learned: nothingLearned(),
    seenFlowLPerMin: null,
    isOverflowProved: null,
    readEachMs: null,
  };
  return line.drums.map((drum) => ({ drum: drum.id, title: drum.title, ...guardFigures(line, drum, known) }));
}

function guardLines(line: Line): readonly string[] {
  const unseen = line.disinfectant === "none" ? [] : [say("no-test")];
  return guardsOf(line).flatMap(({ title, by, unseen: passes, next }) => [
    `${title}: what guards it besides its stop float`,
    ...by.map((text) => `  ${text}`),
    `${title}: what could pass unseen`,
    ...[...passes, ...unseen].map((text) => `  ${text}`),
    ...(next === null ? [] : [`  ${next}`]),
  ]);
}

/**
 * `drumlin check`: every fault of a line file at once, and what a colleague would say of it; exit 1 where it can't be
 * used.
 */
export const checkCommand: Command = {
  name: "check",
  summary: "reads a line file and says what is wrong with it",
  help,
  async run(args) {
    const options = readOptions(args, { json: "flag" });
    const [file, ...more] = options.rest;
    if (file === undefined || more.length > 0) throw new UsageError("name one line file.");
    const result = readLineFile(await readFile(file, "utf8"));
    if (options.flag("json"))
      console.log(
        JSON.stringify(
          { ok: result.ok, faults: result.faults, ...(result.ok ? { guards: guardsOf(result.line) } : {}) },
          null,
          2,
        ),
      );
    else {
      for (const fault of result.faults) console.log(faultText(file, fault));
      if (result.ok) for (const text of guardLines(result.line)) console.log(text);
      console.log(result.ok ? `${file}: good` : `${file}: not taken`);
    }
    return result.ok ? 0 : 1;
  },
};
