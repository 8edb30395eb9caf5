// `npm test`: sets up what the tests need (packages, pages, Mosquitto, Chromium) and runs them all.
// Ends with the line "N passed, N failed". Exit 2 when something is missing that it may not install.
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { buildPages, ensureInstalled, root, runToEnd } from "../gateway/node26.mjs";
import { ensurePrograms } from "./tooling/programs.mjs";

const report = join(root, ".cache", "test-report.json");
/** Node keeps here what it has compiled: hundreds of processes read the same modules. */
const compiled = join(root, ".cache", "compiled");

function countsOf(path) {
  const { numPassedTests, numFailedTests, numPendingTests, numTodoTests, numFailedTestSuites, testResults } =
    JSON.parse(readFileSync(path, "utf8"));
  const brokenFiles = testResults.filter(
    (file) => file.status === "failed" && file.assertionResults.length === 0,
  );
  for (const file of brokenFiles) console.error(`could not run ${file.name}: ${file.message}`);
  return {
    passed: numPassedTests,
    failed: numFailedTests + brokenFiles.length,
    skipped: (numPendingTests ?? 0) + (numTodoTests ?? 0),
    suites: numFailedTestSuites,
  };
}

try {
  ensureInstalled();
  const programs = ensurePrograms([
    "mosquitto",
    "mosquitto_passwd",
    "mosquitto_pub",
    "influxd",
    "openssl",
    "strace",
    "chromium",
  ]);
  if (programs.missing) {
    console.error(programs.missing);
    process.exit(2);
  }
  buildPages(true);
  mkdirSync(join(root, ".cache"), { recursive: true });
  rmSync(report, { force: true });
  // All folders that tests make lie in here: what a killed gateway or browser left goes with it.
  const folder = mkdtempSync(join(tmpdir(), "drumlin-tests-"));
  // As the usual one is: some tests run a gateway as another user of the machine.
  chmodSync(folder, 0o1777);
  const code = await runToEnd(
    [
      join(root, "node_modules", "vitest", "vitest.mjs"),
      "run",
      "--reporter=default",
      "--reporter=json",
      `--outputFile.json=${report}`,
      ...process.argv.slice(2),
    ],
    { ...programs.env, NODE_COMPILE_CACHE: compiled, TMPDIR: folder },
  ).finally(() => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }));
  const counts = countsOf(report);
  const skippedInCi = process.env.CI === "true" && counts.skipped > 0;
  if (skippedInCi) console.error(`${counts.skipped} tests were skipped: no test may be skipped in CI.`);
  const failed =
    counts.failed + (skippedInCi ? counts.skipped : 0) + (code !== 0 && counts.failed === 0 ? 1 : 0);
  console.log(`${counts.passed} passed, ${failed} failed`);
  process.exitCode = failed === 0 && counts.passed > 0 ? 0 : 1;
} catch (error) {
  console.error(error.message);
  console.log("0 passed, 1 failed");
  process.exitCode = 1;
}
