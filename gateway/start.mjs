// `npm start`: installs, builds and runs the demo line, on a machine with only Node and npm.
import { join } from "node:path";
import { buildPages, ensureInstalled, root, runToEnd } from "./node26.mjs";

try {
  ensureInstalled();
  buildPages(true);
  process.exitCode = await runToEnd([
    join(root, "gateway", "src", "main.mjs"),
    "demo",
    ...process.argv.slice(2),
  ]);
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}
