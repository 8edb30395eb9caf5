// `npm run detection -- drums`: each fault with each kit, and quiet lives, over the real path; simulated drums whose true
// litres and κ25 are known. Seeds are shared among threads; the JSON has counts only, what is told stands in the output.
import { writeFileSync } from "node:fs";
import { Worker } from "node:worker_threads";
import { calmRows } from "./calm-row.ts";
import { codeMark } from "./code-mark.ts";
import { calmDeviationsOf, deviationsOf, otherDeviationsOf, quietDeviationsOf } from "./expected.ts";
import { faultRow } from "./fault-row.ts";
import { keptLives, nameOf } from "./kept-lives.ts";
import { kitOf } from "./kits.ts";
import { quietRow } from "./live-quietly.ts";
import { otherRows } from "./other-row.ts";
import { madeNow, resultsOf } from "./results.ts";
import { runnerOptions } from "./runner-options.ts";
import { concerns, scenes } from "./scenes.ts";
import type { Job, JobDone } from "./work.ts";

const { seeds, quietSeeds, days, periodS, threads, kits: names, only, json, part, minutes } = runnerOptions();

/** Numbers from 1 to `count`. */
const upTo = (count: number) => Array.from({ length: count }, (_, index) => index + 1);
/** Seed after seed, so that what was stopped has as many of each kit. */
const asked: readonly Job[] = upTo(Math.max(seeds, days > 0 ? quietSeeds : 0)).flatMap((seed) => [
  ...(seed > seeds
    ? []
    : names.filter((kit) => !kitOf(kit).quietOnly).map((kit) => ({ kit, seed, days: 0, periodS, only }))),
  ...(days === 0 || seed > quietSeeds ? [] : names.map((kit) => ({ kit, seed, days, periodS, only: null }))),
]);

const code = codeMark();
const kept = json === null ? null : keptLives(`${json}.lives`, code);
const wanted = new Set(asked.map(nameOf));
const results = new Map<string, JobDone>();
function take(done: readonly JobDone[]): void {
  for (const one of done) if (wanted.has(nameOf(one.job))) results.set(nameOf(one.job), one);
}
take(kept?.done() ?? []);
if (results.size > 0) console.error(`${results.size} lives were lived before`);
const foreign = kept?.foreign() ?? 0;
if (foreign > 0) console.error(`${foreign} lives of other code are left aside`);

const [index, of] = part;
const jobs = asked.filter((job, at) => at % of === index - 1 && !results.has(nameOf(job)));
const begunMs = performance.now();
const minutesNow = () => (performance.now() - begunMs) / 60_000;
let next = 0;
let done = 0;
let saidMinutes = 0;

function progress(): void {
  const now = minutesNow();
  if (now - saidMinutes < 1) return;
  saidMinutes = now;
  const left = (now * (jobs.length - done)) / done;
  console.error(`${done} of ${jobs.length} after ${now.toFixed(0)} min; about ${left.toFixed(0)} min more`);
}

async function work(): Promise<void> {
  const worker = new Worker(new URL("work.ts", import.meta.url));
  for (let job = jobs[next]; job && minutesNow() < minutes; job = jobs[next]) {
    next += 1;
    const { promise, resolve, reject } = Promise.withResolvers<JobDone>();
    worker.once("message", resolve).once("error", reject).postMessage(job);
    const answer = await promise;
    worker.off("error", reject);
    done += 1;
    kept?.add(answer);
    take([answer]);
    progress();
  }
  await worker.terminate();
}

const bySeed = (one: JobDone, other: JobDone) => one.job.seed - other.job.seed;
const ofKit = (kit: string) => [...results.values()].filter(({ job }) => job.kit === kit).sort(bySeed);

/** What the lives that are over came to. */
function report(): void {
  // Other parts may have gone on beside.
  take(kept?.done() ?? []);
  const lived = names.map((kit) => ({
    kit,
    scenes: scenes.flatMap((scene) => {
      const lives = ofKit(kit).flatMap((one) =>
        "faults" in one ? one.faults.filter(([name]) => name === scene.name).map(([, life]) => life) : [],
      );
      return lives.length > 0 && concerns(scene, kitOf(kit)) ? [[scene, lives] as const] : [];
    }),
  }));
  const faults = lived.flatMap((one) => one.scenes.map(([scene, lives]) => faultRow(one.kit, scene, lives)));
  const calm = lived.flatMap((one) => calmRows(one.kit, one.scenes));
  const others = lived.flatMap((one) => otherRows(one.kit, one.scenes));
  const quiet = names.flatMap((kit) => {
    const lives = ofKit(kit).flatMap((one) => ("quiet" in one ? [one.quiet] : []));
    return lives.length > 0 ? [{ seeds: lives.length, row: quietRow(kit, lives) }] : [];
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
  for (const row of calm) console.log(`calm ${JSON.stringify(row)}`);
  for (const row of others) console.log(`other ${JSON.stringify(row)}`);
  for (const { seeds: lives, row } of quiet) console.log(`${lives} seeds ${JSON.stringify(row)}`);
  const worse = [
    ...faults.flatMap(deviationsOf),
    ...calm.flatMap(calmDeviationsOf),
    ...others.flatMap(otherDeviationsOf),
    ...quiet.flatMap(({ row }) => quietDeviationsOf(row, periodS)),
  ];
  console.log(`${worse.length} results are worse than expected.`);
  for (const { kit, fault, what } of worse) console.log(`  ${kit} | ${fault} | ${what}`);
  console.log(
    `${results.size} of ${asked.length} lives, ${done} of them now in ${minutesNow().toFixed(1)} min on ${threads} threads`,
  );
  if (json !== null)
    writeFileSync(
      json,
      `${JSON.stringify(resultsOf(madeNow(code, periodS), { faults, calm, others, quiet }), null, 2)}\n`,
    );
}

// Stopped before its end it tells what it has.
process.once("SIGINT", () => {
  report();
  process.exit(1);
});
await Promise.all(upTo(Math.min(threads, jobs.length)).map(work));
report();
