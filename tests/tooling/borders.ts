import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** What the border check read and found. */
export interface BorderReport {
  readonly modules: number;
  readonly violations: readonly {
    readonly rule: string;
    readonly from: string;
    readonly to: string;
    readonly comment: string;
  }[];
}

interface CruiseOutput {
  readonly summary: {
    readonly totalCruised: number;
    readonly violations: readonly {
      readonly rule: { readonly name: string };
      readonly from: string;
      readonly to: string;
    }[];
    readonly ruleSetUsed: {
      readonly forbidden: readonly { readonly name: string; readonly comment?: string }[];
    };
  };
}

const projectRoot = fileURLToPath(new URL("../../", import.meta.url));

/** Checks the borders between rooms of the tree in `folder`. Throws when the checker itself fails. */
export function checkBorders(folder: string): BorderReport {
  const parts = ["gateway/src", "firmware-protocol/src", "monitor-ui/src"].filter((part) =>
    existsSync(join(folder, part)),
  );
  const done = spawnSync(
    process.execPath,
    [
      join(projectRoot, "node_modules/dependency-cruiser/bin/dependency-cruiser.mjs"),
      "--config",
      join(projectRoot, ".dependency-cruiser.mjs"),
      "--output-type",
      "json",
      ...parts,
    ],
    { cwd: folder, encoding: "utf8", maxBuffer: 256 * 1024 * 1024 },
  );
  if (!done.stdout.startsWith("{")) throw new Error(`The border check did not run: ${done.stderr}`);
  const { summary } = JSON.parse(done.stdout) as CruiseOutput;
  const comments = new Map(summary.ruleSetUsed.forbidden.map((rule) => [rule.name, rule.comment ?? ""]));
  return {
    modules: summary.totalCruised,
    violations: summary.violations.map(({ rule, from, to }) => ({
      rule: rule.name,
      from,
      to,
      comment: comments.get(rule.name) ?? "",
    })),
  };
}

/** Fewer modules than this means that the checker read nothing (as it does under TypeScript 7). */
const leastModules = 60;

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const report = checkBorders(projectRoot);
  for (const { rule, from, to, comment } of report.violations)
    console.error(`${rule}: ${from} → ${to}\n  ${comment}`);
  if (report.modules < leastModules) {
    console.error(
      `The border check read ${report.modules} modules, fewer than ${leastModules}: it can't be trusted.`,
    );
  }
  console.log(`borders: ${report.modules} modules, ${report.violations.length} violations`);
  process.exitCode = report.violations.length > 0 || report.modules < leastModules ? 1 : 0;
}
