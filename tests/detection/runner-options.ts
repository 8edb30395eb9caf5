import { parseArgs } from "node:util";
import { kits } from "./kits.ts";
import { scenes } from "./scenes.ts";

const usage =
  "npm run detection -- drums [--seeds N] [--quiet-seeds N] [--days D] [--period S] [--kit NAME]… [--fault NAME]… [--threads N] [--json FILE] [--part I/N] [--minutes M]\n" +
  "  --seeds 0: no faults; --days 0: no quiet lives; without --quiet-seeds two for each five of --seeds, 1 to 20\n" +
  "  --json FILE: writes the table there and each life that is done to FILE.lives; begun again it goes on from those\n" +
  "  --part I/N: every Nth life from the Ith on; parts may share FILE. --minutes M: begins no life after that";

/** Quiet lives to each life with a fault: 20 to 50. */
const quietShare = 20 / 50;

/** What to run. */
export interface RunnerOptions {
  readonly seeds: number;
  readonly quietSeeds: number;
  readonly days: number;
  readonly periodS: number;
  readonly threads: number;
  readonly kits: readonly string[];
  readonly only: readonly string[] | null;
  readonly json: string | null;
  readonly part: readonly [index: number, of: number];
  readonly minutes: number;
}

function refuse(why = ""): never {
  console.error(`${why}${usage}`);
  process.exit(2);
}

function whole(text: string, least: number): number {
  const value = Number(text);
  return Number.isInteger(value) && value >= least ? value : refuse();
}

function partOf(text: string): RunnerOptions["part"] {
  const [index = 0, of = 0] = text.split("/").map((number) => whole(number, 1));
  return index <= of ? [index, of] : refuse();
}

/** Reads the command line; ends the process with its usage where it can't be read. */
export function runnerOptions(): RunnerOptions {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      seeds: { type: "string", default: "50" },
      days: { type: "string", default: "60" },
      "quiet-seeds": { type: "string" },
      period: { type: "string", default: "15" },
      threads: { type: "string", default: "2" },
      part: { type: "string", default: "1/1" },
      minutes: { type: "string" },
      kit: { type: "string", multiple: true },
      fault: { type: "string", multiple: true },
      json: { type: "string" },
    },
  });
  const names = values.kit ?? [...kits.keys()];
  const isKnown =
    names.every((name) => kits.has(name)) &&
    (values.fault ?? []).every((name) => scenes.some((scene) => scene.name === name));
  if (positionals.join() !== "drums" || !isKnown)
    refuse(`kits: ${[...kits.keys()].join("; ")}\nfaults: ${scenes.map(({ name }) => name).join("; ")}\n`);
  const seeds = whole(values.seeds, 0);
  const quietSeeds = `${Math.min(20, Math.max(1, Math.round(seeds * quietShare)))}`;
  return {
    seeds,
    quietSeeds: whole(values["quiet-seeds"] ?? quietSeeds, 1),
    days: whole(values.days, 0),
    periodS: whole(values.period, 1),
    threads: whole(values.threads, 1),
    kits: names,
    only: values.fault ?? null,
    json: values.json ?? null,
    part: partOf(values.part),
    minutes: values.minutes === undefined ? Number.POSITIVE_INFINITY : whole(values.minutes, 1),
  };
}
