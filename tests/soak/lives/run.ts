// `npm run soak -- lives [FROM-TO] [HOUSE…]`: lives in which draws, bad water, silences, starts, outages and a fault come together
// as chance has it, through the whole path. What must never be is told with the fewest happenings that bring it about.
import type { Fault } from "./faults.ts";
import type { Happening } from "./happenings.ts";
import { houseNames, liveRandomly, type RandomPlan, randomPlan } from "./random-life.ts";
import { type Wrong, wrongIn } from "./wrong-in.ts";

const [range = "1-100", ...given] = process.argv.slice(2);
const [from = 1, to = from] = range.split("-").map(Number);
const unknown = given.filter((name) => !houseNames.some((house) => house === name));
if (!(from >= 1 && to >= from) || unknown.length > 0) {
  console.error(`npm run soak -- lives [1-100] [${houseNames.join("|")}…]`);
  process.exit(2);
}

const wrongWith = (plan: RandomPlan, happenings: RandomPlan["happenings"]): readonly Wrong[] =>
  wrongIn(plan, liveRandomly(plan, happenings), happenings);

/** Leaves out what the wrong comes without. */
function fewest(plan: RandomPlan, first: readonly Wrong[]) {
  let [happenings, wrong]: [readonly (Happening | Fault)[], readonly Wrong[]] = [plan.happenings, first];
  const codes = new Set(first.map(({ code }) => code));
  for (let index = happenings.length - 1; index >= 0; index -= 1) {
    const fewer = happenings.toSpliced(index, 1);
    const still = wrongWith(plan, fewer);
    if (!still.some(({ code }) => codes.has(code))) continue;
    [happenings, wrong] = [fewer, still];
  }
  return { happenings, wrong };
}

let [lived, found] = [0, 0];
for (let seed = from; seed <= to; seed += 1) {
  const plan = randomPlan(seed);
  if (given.length > 0 && !given.includes(plan.house)) continue;
  lived += 1;
  const wrong = wrongWith(plan, plan.happenings);
  if (wrong.length === 0) continue;
  found += 1;
  const least = fewest(plan, wrong);
  const speaks = `a pack each ${plan.everyS} s, ${plan.noiseL} L of noise${plan.counts ? ", counting" : ""}`;
  console.log(`seed ${seed}: ${plan.house}, ${speaks}`);
  for (const { code, says } of least.wrong) console.log(`  ${code}: ${says}`);
  for (const { says } of least.happenings) console.log(`    ${says}`);
}
console.log(`${lived} lives, ${found} with something wrong in it`);
process.exitCode = found > 0 ? 1 : 0;
