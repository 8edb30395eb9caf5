// node tests/golden/make-golden.ts                     what differs from the golden lives now, line by line where it can
// node tests/golden/make-golden.ts --agree "R.2: …"    takes what differs now as agreed, under that fault
// node tests/golden/make-golden.ts --text SEED         a life's whole text, to compare with another commit's
// node tests/golden/make-golden.ts --make              writes them all: only in a work tree of the golden commit
import { mkdirSync } from "node:fs";
import {
  type Digests,
  expectedOf,
  isKeptWhole,
  lifeCount,
  readAgreed,
  readDigests,
  readWhole,
  writeAgreed,
  writeDigests,
  writeWhole,
} from "./golden-files.ts";
import { houseLife } from "./house-life.ts";
import { liveThrough } from "./live-through.ts";
import { digest, heldSections, type Projection, project, type Section, sections } from "./projection.ts";

const shownLines = 12;
const seeds = Array.from({ length: lifeCount }, (_, seed) => seed);
const run = (seed: number): Projection => project(liveThrough(houseLife(seed)));
const digestsOf = (projection: Projection) =>
  Object.fromEntries(sections.map((section) => [section, digest(projection[section])])) as Digests;

function make(): void {
  mkdirSync(new URL("lives", import.meta.url), { recursive: true });
  const all: Record<string, Digests> = {};
  for (const seed of seeds) {
    const projection = run(seed);
    all[seed] = digestsOf(projection);
    if (isKeptWhole(seed)) writeWhole(seed, projection);
  }
  writeDigests(all);
}

function show(seed: number, section: Section, now: readonly string[]): void {
  console.log(`life ${seed}, ${section}:`);
  if (!isKeptWhole(seed)) return;
  const before = new Set(readWhole(seed)[section]);
  const after = new Set(now);
  const gone = [...before].filter((line) => !after.has(line)).map((line) => `  - ${line}`);
  const come = now.filter((line) => !before.has(line)).map((line) => `  + ${line}`);
  for (const line of [...gone.slice(0, shownLines), ...come.slice(0, shownLines)]) console.log(line);
  console.log(`  ${gone.length} lines gone, ${come.length} new`);
}

function compare(fault: string | null): void {
  const golden = readDigests();
  const agreed = readAgreed();
  const lives: Record<string, Partial<Digests>> = {};
  for (const seed of seeds) {
    const now = run(seed);
    const expected = expectedOf(seed, golden[seed] as Digests, agreed);
    const changed = heldSections.filter((section) => digest(now[section]) !== expected[section]);
    for (const section of changed) show(seed, section, now[section]);
    if (changed.length > 0)
      lives[seed] = Object.fromEntries(changed.map((section) => [section, digest(now[section])]));
  }
  console.log(`${Object.keys(lives).length} of ${lifeCount} lives differ.`);
  if (fault !== null && Object.keys(lives).length > 0) writeAgreed([...agreed, { fault, lives }]);
}

const [what, value] = process.argv.slice(2);
if (what === "--make") make();
else if (what === "--text")
  for (const [section, lines] of Object.entries(run(Number(value))))
    for (const line of lines) console.log(`${section} ${line}`);
else compare(what === "--agree" && value ? value : null);
