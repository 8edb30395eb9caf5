// `npm run soak`: the full form of what the tests hold in small. `npm run soak [-- KILLS [FOLDER]]`: kill -9 of the gateway
// under load, many times; what is kept in FOLDER is gone on with, so that a long run can be done in parts; `npm run soak
// -- full-disk`: a gateway on a small disk that fills up (`full-disk influx`: beside a real InfluxDB; `full-disk-minute`: at once); `npm run soak -- backup`: copies of one that is flooded, killed; `npm run soak -- formulas [CALLS]`: every formula at the ends of its arguments; `npm run soak
// -- attack [NAME…]`: a gateway under attack, with the figures of whoever means well meanwhile; `npm run soak
// -- influx-kills [KILLS]`: kill -9 of a gateway that sends on to a real InfluxDB, which is killed beside it in some; `npm run soak
// -- influx-way [MINUTES]`: the same over a way that is down for 2 s of 4, then one of 20 kB/s; `npm run soak
// -- properties [RUNS] [--part I/N]`: every property with a seed of its own, told where one fails; in N parts that are run one
// by one, with DRUMLIN_SEED=… the seed of the first; `npm run soak
// -- drums`: the drums' lives with a pack each 5 s, as nodes send by themselves; `npm run soak -- nodes [MINUTES]`: 1,000 nodes,
// a pack each 5 s, for an hour; `npm run soak -- lives [FROM-TO] [HOUSE…]`: lives of drums in which all comes together as chance
// has it, with what must never be.
import { spawnSync } from "node:child_process";
import { globSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";

const root = fileURLToPath(new URL("../../", import.meta.url));
const { values, positionals } = parseArgs({
  allowPositionals: true,
  strict: false,
  options: { part: { type: "string", default: "1/1" } },
});
const [what = "60", second] = positionals;
const [files, environment]: [readonly string[], Readonly<Record<string, string>>] =
  what === "formulas"
    ? [
        ["tests/unit/water/argument-ends.test.ts"],
        { DRUMLIN_FORMULA_CALLS: second ?? "120000", DRUMLIN_SEED: seedOf() },
      ]
    : what === "properties"
      ? [propertyFiles(String(values.part)), { DRUMLIN_RUNS: second ?? "100", DRUMLIN_SEED: seedOf() }]
      : what === "drums"
        ? [["tests/acceptance/drum-"], { DRUMLIN_PACK_S: "5" }]
        : what === "influx-kills"
          ? [["tests/acceptance/killed-beside-influx.test.ts"], { DRUMLIN_KILLS: second ?? "40" }]
          : [
              ["tests/acceptance/killed-gateway.test.ts"],
              {
                DRUMLIN_KILLS: what,
                ...(second === undefined ? {} : { DRUMLIN_KILLS_FOLDER: resolve(second) }),
              },
            ];
if (environment.DRUMLIN_SEED) console.log(`DRUMLIN_SEED=${environment.DRUMLIN_SEED}`);

/** Test files that draw what they try: those of one part, "2/5", the same at each run. */
function propertyFiles(part: string): string[] {
  const [number = 1, parts = 1] = part.split("/").map(Number);
  if (!(number >= 1 && number <= parts)) throw new Error(`--part ${part}: write 2/5 for the second of five.`);
  const files = globSync("tests/{unit,contract,acceptance}/**/*.test.ts", { cwd: root })
    .filter((name) => /fc[.]assert|DRUMLIN_RUNS/.test(readFileSync(root + name, "utf8")))
    .toSorted()
    .filter((_name, index) => index % parts === number - 1);
  console.log(`part ${number} of ${parts}: ${files.length} files`);
  return files;
}

/** A new seed each time, told in the tests' names, unless one is given. */
function seedOf(): string {
  return process.env.DRUMLIN_SEED ?? String(Date.now() % 4_294_967_296);
}

/** Programs of their own, with what they are given. */
const programs: Readonly<Record<string, string>> = {
  attack: "tests/soak/attack/run.ts",
  "full-disk": "tests/soak/full-disk.ts",
  "full-disk-minute": "tests/soak/full-disk-minute.ts",
  backup: "tests/soak/backup.ts",
  "influx-way": "tests/soak/influx-rough-way.ts",
  nodes: "tests/soak/many-nodes.ts",
  lives: "tests/soak/lives/run.ts",
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
