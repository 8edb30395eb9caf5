// `npm run soak`: the full form of what the tests hold in small. `npm run soak [-- KILLS [FOLDER]]`: kill -9 of the gateway
// under load, many times; what is kept in FOLDER is gone on with, so that a long run can be done in parts; `npm run soak
// -- full-disk`: a gateway on a small disk that fills up; `npm run soak -- backup`: copies of one that is flooded, killed; `npm run soak -- formulas [CALLS]`: every formula at the ends of its arguments; `npm run soak
// -- attack [NAME…]`: a gateway under attack, with the figures of whoever means well meanwhile; `npm run soak
// -- properties [RUNS]`: every property with seeds of their own, told where one fails.
import { spawnSync } from "node:child_process";
import { globSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../", import.meta.url));
const [what = "60", count = "120000"] = process.argv.slice(2);
const [files, environment]: [readonly string[], Readonly<Record<string, string>>] =
  what === "formulas"
    ? [["tests/unit/water/argument-ends.test.ts"], { DRUMLIN_FORMULA_CALLS: count, DRUMLIN_SEED: seedOf() }]
    : what === "properties"
      ? [propertyFiles(), { DRUMLIN_RUNS: process.argv[3] ?? "100", DRUMLIN_SEED: seedOf() }]
      : [
          ["tests/acceptance/killed-gateway.test.ts"],
          {
            DRUMLIN_KILLS: what,
            ...(process.argv[3] === undefined ? {} : { DRUMLIN_KILLS_FOLDER: resolve(process.argv[3]) }),
          },
        ];
if (environment.DRUMLIN_SEED) console.log(`DRUMLIN_SEED=${environment.DRUMLIN_SEED}`);

/** Test files that draw what they try. */
function propertyFiles(): string[] {
  return globSync("tests/{unit,contract,acceptance}/**/*.test.ts", { cwd: root }).filter((name) =>
    readFileSync(root + name, "utf8").includes("fc.assert"),
  );
}

/** A new seed each time, told in the tests' names, unless one is given. */
function seedOf(): string {
  return process.env.DRUMLIN_SEED ?? String(Date.now() % 4_294_967_296);
}

/** Programs of their own, with what they are given. */
const programs: Readonly<Record<string, string>> = {
  attack: "tests/soak/attack/run.ts",
  "full-disk": "tests/soak/full-disk.ts",
  backup: "tests/soak/backup.ts",
};
const program = programs[what];
const args =
  program !== undefined
    ? [`${root}${program}`, ...process.argv.slice(3)]
    : [`${root}node_modules/vitest/vitest.mjs`, "run", "--testTimeout=600000", ...files];
const done = spawnSync(process.execPath, args, {
  cwd: root,
  stdio: "inherit",
  env: { ...process.env, ...environment },
});
process.exitCode = done.status ?? 1;
