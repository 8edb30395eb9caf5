import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

const main = fileURLToPath(new URL("../../gateway/src/main.mjs", import.meta.url));

/** Runs one command to its end, with what it reads from standard input. */
export function drumlin(args: readonly string[], input = "") {
  const child = spawn(process.execPath, [main, ...args]);
  let out = "";
  let errors = "";
  child.stdout.on("data", (chunk: Buffer) => (out += chunk.toString()));
  child.stderr.on("data", (chunk: Buffer) => (errors += chunk.toString()));
  child.stdin.end(input);
  return new Promise<{ code: number | null; out: string; errors: string }>((resolve) =>
    child.on("close", (code) => resolve({ code, out, errors })),
  );
}
