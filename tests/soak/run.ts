// `npm run soak`: the full form of what the tests hold in small. `npm run soak [-- KILLS]`: kill -9 of the gateway under
// load, many times; `npm run soak -- formulas [CALLS]`: every formula at the ends of its arguments; `npm run soak
// -- attack [NAME…]`: a gateway under attack, with the figures of whoever means well meanwhile.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../", import.meta.url));
const [what = "60", count = "120000"] = process.argv.slice(2);
const [file, environment] =
  what === "formulas"
    ? ["tests/unit/water/argument-ends.test.ts", { DRUMLIN_FORMULA_CALLS: count, DRUMLIN_SEED: seedOf() }]
    : ["tests/acceptance/killed-gateway.test.ts", { DRUMLIN_KILLS: what }];

/** A new seed each time, told in the tests' names, unless one is given. */
function seedOf(): string {
  return process.env.DRUMLIN_SEED ?? String(Date.now() % 4_294_967_296);
}

const args =
  what === "attack"
    ? [`${root}tests/soak/attack/run.ts`, ...process.argv.slice(3)]
    : [`${root}node_modules/vitest/vitest.mjs`, "run", "--testTimeout=600000", file];
const done = spawnSync(process.execPath, args, {
  cwd: root,
  stdio: "inherit",
  env: { ...process.env, ...environment },
});
process.exitCode = done.status ?? 1;
