const stoodMs = 15 * 60_000;
/** Length of the front: the width of the logistic as a share of the capacity (constant pattern). */
const frontShare = 0.035;
/** What good resin lets through; air would add about 1 uS/cm of carbon dioxide, but the water has not met it yet. */
const floor25UsPerCm = 0.3;
const leached25UsPerCm = 14;
const leachedL = 1.5;
/** A membrane lets through a few percent, and more of it while it stood: salts creep to its clean side. */
const passedShare = 0.03;
const creptShare = 0.2;
const creptL = 1;

/** Water that passes a medium in one step, and what it is fed with. */
interface Passing {
  readonly litres: number;
  readonly minutes: number;
  readonly feed25UsPerCm: number;
}

/** Counts the litres since a medium has stood. */
function createRun() {
  let stillMs = stoodMs;
  let litres = 0;
  return (passing: Passing): number => {
    if (passing.litres > 0) {
      if (stillMs >= stoodMs) litres = 0;
      stillMs = 0;
      litres += passing.litres;
    } else stillMs += passing.minutes * 60_000;
    return litres;
  };
}

/** Resin that is spent by equivalents. */
export function createResinBed(capacityMeq: number, random: () => number) {
  const run = createRun();
  const bed = { loadMeq: 0, after25UsPerCm: 0.5 };
  return {
    bed: bed as Readonly<typeof bed>,
    pass(passing: Passing): void {
      const runL = run(passing);
      if (passing.litres <= 0) return;
      // κ25/112 as meq/L lies between the two rules of thumb, κ25/125 and κ25/100.
      bed.loadMeq += (passing.feed25UsPerCm / 112) * passing.litres;
      const share = 1 / (1 + Math.exp((capacityMeq - bed.loadMeq) / (frontShare * capacityMeq)));
      const leached = leached25UsPerCm * Math.exp(-runL / leachedL);
      bed.after25UsPerCm = floor25UsPerCm + passing.feed25UsPerCm * share + leached + random() * 0.03;
    },
  };
}

/** A membrane before the resin. */
export function createMembrane(random: () => number) {
  const run = createRun();
  const membrane = { after25UsPerCm: 12 };
  return {
    membrane: membrane as Readonly<typeof membrane>,
    pass(passing: Passing): void {
      const runL = run(passing);
      if (passing.litres <= 0) return;
      const share = passedShare + creptShare * Math.exp(-runL / creptL);
      membrane.after25UsPerCm = passing.feed25UsPerCm * share + random() * 0.1;
    },
  };
}
