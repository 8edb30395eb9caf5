// `npm run detection -- drums`: each fault with each kit, and quiet lives, over the real path; simulated drums whose true
// litres and κ25 are known. Seeds are shared among threads; the JSON has counts only, what is told stands in the output.
import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";
import { deviationsOf, quietDeviationsOf } from "./expected.ts";
import { faultRow } from "./fault-row.ts";
import { kitOf, kits } from "./kits.ts";
import { quietRow } from "./live-quietly.ts";
import { concerns, scenes } from "./scenes.ts";
import type { Job, JobDone } from "./work.ts";

const usage =
  "npm run detection -- drums [--seeds N] [--quiet-seeds N] [--days D] [--period S] [--kit NAME]… [--fault NAME]… [--threads N] [--json FILE]\n" +
  "  --seeds 0: no faults; --days 0: no quiet lives";
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    seeds: { type: "string", default: "50" },
    days: { type: "string", default: "60" },
    "quiet-seeds": { type: "string", default: "20" },
    period: { type: "string", default: "15" },
    threads: { type: "string", default: "2" },
    kit: { type: "string", multiple: true },
    fault: { type: "string", multiple: true },
    json: { type: "string" },
  },
});
const number = (text: string, least: number): number => {
  const value = Number(text);
  if (Number.isInteger(value) && value >= least) return value;
  console.error(usage);
  process.exit(2);
};
const seeds = number(values.seeds, 0);
const days = number(values.days, 0);
const quietSeeds = number(values["quiet-seeds"], 1);
const periodS = number(values.period, 1);
const threads = number(values.threads, 1);
const names = values.kit ?? [...kits.keys()];
const only = values.fault ?? null;
if (
  positionals.join() !== "drums" ||
  names.some((name) => !kits.has(name)) ||
  only?.some((name) => !scenes.some((scene) => scene.name === name))
) {
  console.error(
    `${usage}\nkits: ${[...kits.keys()].join("; ")}\nfaults: ${scenes.map(({ name }) => name).join("; ")}`,
  );
  process.exit(2);
}

/** Numbers from 1 to `count`. */
const upTo = (count: number) => Array.from({ length: count }, (_, index) => index + 1);
const jobs: readonly Job[] = [
  ...upTo(seeds).flatMap((seed) =>
    names.filter((kit) => !kitOf(kit).quietOnly).map((kit) => ({ kit, seed, days: 0, periodS, only })),
  ),
  ...upTo(days > 0 ? quietSeeds : 0).flatMap((seed) =>
    names.map((kit) => ({ kit, seed, days, periodS, only })),
  ),
];

const results: JobDone[] = [];
const begunMs = performance.now();
let next = 0;
let saidMs = begunMs;

function progress(): void {
  const nowMs = performance.now();
  if (nowMs - saidMs < 60_000) return;
  saidMs = nowMs;
  const minutes = (nowMs - begunMs) / 60_000;
  const left = (minutes * (jobs.length - results.length)) / results.length;
  console.error(
    `${results.length} of ${jobs.length} after ${minutes.toFixed(0)} min; about ${left.toFixed(0)} min more`,
  );
}

async function work(): Promise<void> {
  const worker = new Worker(new URL("work.ts", import.meta.url));
  for (let job = jobs[next]; job; job = jobs[next]) {
    next += 1;
    const answer = await new Promise<JobDone>((resolve, reject) => {
      worker.once("message", resolve);
      worker.once("error", reject);
      worker.postMessage(job);
    });
    worker.removeAllListeners();
    results.push(answer);
    progress();
  }
  await worker.terminate();
}

const bySeed = (one: JobDone, other: JobDone) => one.job.seed - other.job.seed;
const of = (kit: string) => results.filter(({ job }) => job.kit === kit).sort(bySeed);

/** What the lives that are over came to. */
function report(): void {
  const faults = names.flatMap((kit) =>
    scenes.flatMap((scene) => {
      const lives = of(kit).flatMap((done) =>
        "faults" in done ? done.faults.filter(([name]) => name === scene.name).map(([, life]) => life) : [],
      );
      return lives.length > 0 && concerns(scene, kitOf(kit)) ? [faultRow(kit, scene, lives)] : [];
    }),
  );
  const quiet = names.flatMap((kit) => {
    const lives = of(kit).flatMap((done) => ("quiet" in done ? [done.quiet] : []));
    return lives.length > 0 ? [quietRow(kit, lives)] : [];
  });

  for (const row of faults) {
    const after =
      row.minutesToTell === null ? "" : ` after ${row.minutesToTell} min (90 %: ${row.minutesToTellP90} min)`;
    const flood =
      row.floods === 0 ? "no flood" : `before brim ${row.beforeBrim}, floor ${row.litresOnFloor} L`;
    console.log(
      `${row.kit} | ${row.fault} | seen ${row.seen}/${row.seeds}, told ${row.told}${after}, ${flood} | ${row.conditions.join(", ")}`,
    );
  }
  for (const row of quiet) console.log(JSON.stringify(row));
  const worse = [...faults.flatMap(deviationsOf), ...quiet.flatMap(quietDeviationsOf)];
  console.log(`${worse.length} results are worse than expected.`);
  for (const { kit, fault, what } of worse) console.log(`  ${kit} | ${fault} | ${what}`);
  console.log(
    `${results.length} of ${jobs.length} jobs, ${((performance.now() - begunMs) / 60_000).toFixed(1)} min on ${threads} threads`,
  );
  if (values.json) {
    const asked = {
      faults: faults.map(({ kit, fault, seeds: of, seen, told, beforeBrim, litresOnFloor }) => ({
        kit,
        fault,
        seeds: of,
        seen,
        told,
        beforeBrim,
        litresOnFloor,
      })),
      quiet: quiet.map(({ conditions: _, ...row }) => row),
    };
    writeFileSync(values.json, `${JSON.stringify(asked, null, 2)}\n`);
  }
}

// Stopped before its end it tells what it has.
process.once("SIGINT", () => {
  report();
  process.exit(1);
});
await Promise.all(upTo(Math.min(threads, jobs.length)).map(work));
report();
