// `node tests/detection/write-results.ts FILE.json…`: writes RESULTS.md beside this file from what `npm run detection --
// drums --json FILE.json` wrote; of several files (faults, quiet lives) the first one's date and commit are named.
import { readFileSync, writeFileSync } from "node:fs";
import type { Results } from "./results.ts";
import { resultsPage } from "./results-page.ts";

const files = process.argv.slice(2).map((file): Results => JSON.parse(readFileSync(file, "utf8")) as Results);
const [first] = files;
if (!first) {
  console.error("node tests/detection/write-results.ts FILE.json…");
  process.exit(2);
}
const page = resultsPage({
  made: first.made,
  faults: files.flatMap(({ faults }) => faults),
  calm: files.flatMap(({ calm }) => calm),
  others: files.flatMap(({ others }) => others),
  quiet: files.flatMap(({ quiet }) => quiet),
});
writeFileSync(new URL("RESULTS.md", import.meta.url), page);
