// `npm run check`: types, lint and format, borders, dead code, dependencies; every part runs, all failures are told.
import { join } from "node:path";
import { ensureInstalled, node26, root, run } from "../../gateway/node26.mjs";

ensureInstalled();
const bin = (...path) => join(root, "node_modules", ...path);
const parts = [
  ["types", [bin("typescript", "bin", "tsc"), "-p", "tsconfig.json"]],
  ["types of the pages", [bin("typescript", "bin", "tsc"), "-p", "monitor-ui/tsconfig.json"]],
  ["lint and format", [bin("@biomejs", "biome", "bin", "biome"), "check", "."]],
  ["borders", [join(root, "tests", "tooling", "borders.ts")]],
  ["shape", [join(root, "tests", "tooling", "shape.ts")]],
  ["dead code", [bin("knip", "bin", "knip.js")]],
  ["dependencies", [join(root, "tests", "tooling", "dependencies.ts")]],
];
const failed = [];
for (const [name, args] of parts) {
  const begun = Date.now();
  try {
    run(node26(), args);
    console.log(`check ${name}: good (${((Date.now() - begun) / 1000).toFixed(1)} s)`);
  } catch (error) {
    failed.push(name);
    console.error(`check ${name}: ${error.message}`);
  }
}
if (failed.length > 0) console.error(`Not good: ${failed.join(", ")}.`);
process.exitCode = failed.length > 0 ? 1 : 0;
