import { createInterface } from "node:readline";
import { Writable } from "node:stream";
import { UsageError } from "./options.ts";

/** Reads one line of standard input, which is not a terminal. */
async function lineOfInput(): Promise<string> {
  for await (const line of createInterface({ input: process.stdin })) return line;
  throw new UsageError("--password-stdin: nothing came on standard input.");
}

function askOnce(prompt: string): Promise<string> {
  const nowhere = new Writable({ write: (_chunk, _encoding, done) => done() });
  const terminal = createInterface({ input: process.stdin, output: nowhere, terminal: true });
  process.stderr.write(prompt);
  return new Promise((resolve, reject) => {
    terminal.once("SIGINT", () => reject(new Error("Nothing was changed.")));
    terminal.question("", resolve);
  }).finally(() => {
    terminal.close();
    process.stderr.write("\n");
  }) as Promise<string>;
}

/** A new password: one line of standard input, or asked twice on the terminal without echo. Throws UsageError. */
export async function askNewPassword(fromInput: boolean): Promise<string> {
  if (fromInput) return lineOfInput();
  if (!process.stdin.isTTY) throw new UsageError("there is no terminal to ask on: say --password-stdin.");
  const password = await askOnce("Password (at least 10 letters; a sentence is good): ");
  if ((await askOnce("Once more: ")) !== password)
    throw new Error("The two are not the same: nothing was changed.");
  return password;
}
