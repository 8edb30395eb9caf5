import { config } from "zod";
import type { Command } from "./commands/command.ts";
import { UsageError } from "./options.ts";

// Each schema reads a few things in the life of a process: making a program out of it first costs more than it saves.
config({ jitless: true });

/** Commands in the order of the list; each is loaded when it is asked for, since a gateway needs only its own at its start. */
const commands: Readonly<Record<string, () => Promise<Command>>> = {
  run: async () => (await import("./commands/run.ts")).runCommand,
  demo: async () => (await import("./commands/demo.ts")).demoCommand,
  check: async () => (await import("./commands/check.ts")).checkCommand,
  new: async () => (await import("./commands/new.ts")).newCommand,
  derive: async () => (await import("./commands/derive.ts")).deriveCommand,
  export: async () => (await import("./commands/export.ts")).exportCommand,
  backup: async () => (await import("./commands/backup.ts")).backupCommand,
  restore: async () => (await import("./commands/backup.ts")).restoreCommand,
  night: async () => (await import("./commands/night.ts")).nightCommand,
  act: async () => (await import("./commands/act.ts")).actCommand,
  user: async () => (await import("./commands/user.ts")).userCommand,
  token: async () => (await import("./commands/token.ts")).tokenCommand,
  node: async () => (await import("./commands/node.ts")).nodeCommand,
  compute: async () => (await import("./commands/compute.ts")).computeCommand,
};

/** A command by its name; null where there is none. */
async function commandOf(name: string): Promise<Command | null> {
  return Object.hasOwn(commands, name) ? ((await commands[name]?.()) ?? null) : null;
}

async function overview(): Promise<string> {
  const all = await Promise.all(Object.values(commands).map((load) => load()));
  const width = Math.max(...all.map((command) => command.name.length));
  const rows = all.map((command) => `  drumlin ${command.name.padEnd(width)}  ${command.summary}`);
  return [
    "Drumlin watches the line that makes water for aquatic animals.",
    "",
    ...rows,
    "",
    "drumlin COMMAND --help tells the rest; drumlin help line [WORD] explains every key of the line file.",
  ].join("\n");
}

/** `drumlin help`: all commands, one of them, or the line file's keys. */
async function help([topic, word]: readonly string[]): Promise<number> {
  if (topic === "line") {
    const { lineHelp } = await import("./commands/help-line.ts");
    const text = lineHelp(word);
    console.log(
      text ?? `No key of the line file has to do with "${word}". drumlin help line lists them all.`,
    );
    return text === null ? 1 : 0;
  }
  const command = topic === undefined ? null : await commandOf(topic);
  console.log(command?.help ?? (await overview()));
  return topic === undefined || command ? 0 : 2;
}

/** Runs one command line. Gives the exit code: 0 ok, 1 found something wrong, 2 usage. */
export async function main(args: readonly string[]): Promise<number> {
  const [name, ...rest] = args;
  if (name === "help") return help(rest);
  if (name === undefined || name === "--help") {
    console.log(await overview());
    return name === undefined ? 2 : 0;
  }
  const command = await commandOf(name);
  if (!command) {
    console.error(`drumlin: there is no command "${name}".\n\n${await overview()}`);
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
