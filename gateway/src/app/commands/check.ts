import { readFile } from "node:fs/promises";
import { readLineFile } from "../../alarms/index.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";
import { faultText } from "./fault-text.ts";

const help = `drumlin check FILE [--json]

Reads a line file and tells every fault with its line and column, and what to write instead; then warns as a
colleague would (an overflow nobody can reach in time, a limit that the probe can't see, …).
Exit: 0 nothing wrong (warnings may stand), 1 faults found, 2 usage.`;

export const checkCommand: Command = {
  name: "check",
  summary: "reads a line file and says what is wrong with it",
  help,
  async run(args) {
    const options = readOptions(args, { json: "flag" });
    const [file, ...more] = options.rest;
    if (file === undefined || more.length > 0) throw new UsageError("name one line file.");
    const result = readLineFile(await readFile(file, "utf8"));
    if (options.flag("json")) console.log(JSON.stringify({ ok: result.ok, faults: result.faults }, null, 2));
    else {
      for (const fault of result.faults) console.log(faultText(file, fault));
      console.log(result.ok ? `${file}: good` : `${file}: not taken`);
    }
    return result.ok ? 0 : 1;
  },
};
