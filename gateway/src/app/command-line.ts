import { actCommand } from "./commands/act.ts";
import { backupCommand, restoreCommand } from "./commands/backup.ts";
import { checkCommand } from "./commands/check.ts";
import type { Command } from "./commands/command.ts";
import { computeCommand } from "./commands/compute.ts";
import { demoCommand } from "./commands/demo.ts";
import { deriveCommand } from "./commands/derive.ts";
import { exportCommand } from "./commands/export.ts";
import { lineHelp } from "./commands/help-line.ts";
import { newCommand } from "./commands/new.ts";
import { nightCommand } from "./commands/night.ts";
import { nodeCommand } from "./commands/node.ts";
import { runCommand } from "./commands/run.ts";
import { tokenCommand } from "./commands/token.ts";
import { userCommand } from "./commands/user.ts";
import { UsageError } from "./options.ts";

const commands: readonly Command[] = [
  runCommand,
  demoCommand,
  checkCommand,
  newCommand,
  deriveCommand,
  exportCommand,
  backupCommand,
  restoreCommand,
  nightCommand,
  actCommand,
  userCommand,
  tokenCommand,
  nodeCommand,
  computeCommand,
];

function overview(): string {
  const width = Math.max(...commands.map((command) => command.name.length));
  const rows = commands.map((command) => `  drumlin ${command.name.padEnd(width)}  ${command.summary}`);
  return [
    "Drumlin watches the line that makes water for aquatic animals.",
    "",
    ...rows,
    "",
    "drumlin COMMAND --help tells the rest; drumlin help line [WORD] explains every key of the line file.",
  ].join("\n");
}

/** `drumlin help`: all commands, one of them, or the line file's keys. */
function help([topic, word]: readonly string[]): number {
  if (topic === "line") {
    const text = lineHelp(word);
    console.log(
      text ?? `No key of the line file has to do with "${word}". drumlin help line lists them all.`,
    );
    return text === null ? 1 : 0;
  }
  const command = commands.find((candidate) => candidate.name === topic);
  console.log(command?.help ?? overview());
  return topic === undefined || command ? 0 : 2;
}

/** Runs one command line. Gives the exit code: 0 ok, 1 found something wrong, 2 usage. */
export async function main(args: readonly string[]): Promise<number> {
  const [name, ...rest] = args;
  if (name === "help") return help(rest);
  if (name === undefined || name === "--help") {
    console.log(overview());
    return name === undefined ? 2 : 0;
  }
  const command = commands.find((candidate) => candidate.name === name);
  if (!command) {
    console.error(`drumlin: there is no command "${name}".\n\n${overview()}`);
    return 2;
  }
  if (rest.includes("--help")) {
    console.log(command.helpOf?.(rest) ?? command.help);
    return 0;
  }
  try {
    return await command.run(rest);
  } catch (error) {
    if (error instanceof UsageError) {
      console.error(`drumlin ${command.name}: ${error.message}\n\n${command.help}`);
      return 2;
    }
    console.error(`drumlin ${command.name}: ${error instanceof Error ? error.message : String(error)}`);
    return 1;
  }
}
