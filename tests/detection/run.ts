// `npm run detection -- drums [--seeds N] [--days D] [--kit NAME] [--json FILE]`: each fault with each kit, and quiet
// lives of D days, over the real path; simulated drums whose true litres and κ25 are known.
import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { concerns, detect, type FaultRow, scenes } from "./detect-faults.ts";
import { deviationsOf, quietDeviationsOf } from "./expected.ts";
import { kits } from "./kits.ts";
import { liveQuietly, type QuietRow } from "./live-quietly.ts";

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    seeds: { type: "string", default: "50" },
    days: { type: "string", default: "60" },
    "quiet-seeds": { type: "string", default: "20" },
    kit: { type: "string", multiple: true },
    json: { type: "string" },
  },
});
const [seeds, days, quietSeeds] = [values.seeds, values.days, values["quiet-seeds"]].map(Number);
const names = values.kit ?? [...kits.keys()];
const whole = (value: number | undefined, least: number): value is number =>
  Number.isInteger(value) && (value ?? -1) >= least;
if (
  positionals.join() !== "drums" ||
  !whole(seeds, 1) ||
  !whole(days, 0) ||
  !whole(quietSeeds, 1) ||
  names.some((name) => !kits.has(name))
) {
  console.error(
    "npm run detection -- drums [--seeds N] [--days D] [--quiet-seeds N] [--kit NAME]… [--json FILE]",
  );
  process.exit(2);
}

const faults: FaultRow[] = [];
for (const [name, kit] of kits)
  for (const scene of names.includes(name) ? scenes : []) {
    if (!concerns(scene, kit)) continue;
    const row = detect(name, scene, seeds);
    faults.push(row);
    const brim = row.beforeBrim === null ? "no flood" : `before brim ${row.beforeBrim}`;
    const after = row.minutesToTell === null ? "" : `, after ${row.minutesToTell} min`;
    console.log(
      `${name} | ${row.fault} | seen ${row.seen}/${seeds}, told ${row.told}${after}, ${brim}, floor ${row.litresOnFloor} L | ${row.conditions.join(", ")}`,
    );
  }
const quiet: QuietRow[] = [];
for (const name of days > 0 ? names : []) {
  const row = liveQuietly(name, quietSeeds, days, 5);
  quiet.push(row);
  console.log(JSON.stringify(row));
}
const worse = [...faults.flatMap(deviationsOf), ...quiet.flatMap(quietDeviationsOf)];
console.log(`${worse.length} results are worse than expected.`);
for (const { kit, fault, what } of worse) console.log(`  ${kit} | ${fault} | ${what}`);
if (values.json) writeFileSync(values.json, `${JSON.stringify({ faults, quiet, worse }, null, 2)}\n`);
