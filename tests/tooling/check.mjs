// `npm run check`: types, lint and format, borders, dead code, dependencies; every part runs, all failures are told.
// Two parts at a time, those that take longest first: each has one thread.
import { spawn } from "node:child_process";
import { join } from "node:path";
import { ensureInstalled, node26, root } from "../../gateway/node26.mjs";

ensureInstalled();
const bin = (...path) => join(root, "node_modules", ...path);
const parts = [
  ["types", [bin("typescript", "bin", "tsc"), "-p", "tsconfig.json"]],
  ["borders", [join(root, "tests", "tooling", "borders.ts")]],
  ["types of the pages", [bin("typescript", "bin", "tsc"), "-p", "monitor-ui/tsconfig.json"]],
  ["dead code", [bin("knip", "bin", "knip.js")]],
  ["shape", [join(root, "tests", "tooling", "shape.ts")]],
  ["lint and format", [bin("@biomejs", "biome", "bin", "biome"), "check", "."]],
  ["dependencies", [join(root, "tests", "tooling", "dependencies.ts")]],
];
const failed = [];

/** Runs a part and tells what it said in one piece, once it is over. */
async function check([name, args]) {
  const begun = Date.now();
  const child = spawn(node26(), args, { cwd: root, stdio: ["ignore", "pipe", "pipe"] });
  const said = [];
  child.stdout.on("data", (bytes) => said.push(bytes));
  child.stderr.on("data", (bytes) => said.push(bytes));
  const why = await new Promise((resolve) => {
    child.once("error", (error) => resolve(error.message));
    child.once("close", (code, signal) => resolve(code === 0 ? null : `ended with ${code ?? signal}`));
  });
  process.stdout.write(Buffer.concat(said));
  if (why === null) console.log(`check ${name}: good (${((Date.now() - begun) / 1000).toFixed(1)} s)`);
  else {
    failed.push(name);
    console.error(`check ${name}: ${args.join(" ")} ${why}.`);
  }
}

const waiting = [...parts];
async function work() {
  for (let part = waiting.shift(); part; part = waiting.shift()) await check(part);
}
await Promise.all([work(), work()]);
if (failed.length > 0) console.error(`Not good: ${failed.join(", ")}.`);
process.exitCode = failed.length > 0 ? 1 : 0;
