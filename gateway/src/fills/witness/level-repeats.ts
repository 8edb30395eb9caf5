/** How often in a row a level has said the very same. Plain data. */
export interface LevelRepeats {
  litres: number;
  sinceMs: number;
  readings: number;
  /** Smallest change that was seen from one reading to the next, L; null: none was. */
  stepL: number | null;
  /** So many changes were seen, 60 at most. */
  changes: number;
  /** Standard deviation of one reading when it last changed, L; null while too few were seen. */
  sigmaL: number | null;
  /** The most readings in a row that said the same, and moved on; fades in some days. */
  longest: number;
  /** It said the same for longer than a probe that is alive can, while water was to come: until it moves. */
  isFrozen: boolean;
}

/** What is read of a level's trace. */
interface Repeating {
  repeats?: LevelRepeats;
  /** Standard deviation of one reading by its second differences, L, and how many made it. */
  readonly sigmaL: number | null;
  readonly sigmaCount: number;
  readonly lastMs: number | null;
}

/** Before so many changes were seen, nothing is known of its own noise. */
const enoughChanges = 60;
/** What differs by less is the same, L: a sum of floating numbers that a node rounds now this way and now that is no noise. */
const leastStepL = 1e-6;
/** By chance a probe with noise of its own says the same that often less than once in so many readings. */
const onceIn = 1e9;
const leastReadings = 12;
const leastMs = 2 * 60_000;
/** A still night makes it say the same for hours: so many times what it did before. */
const longestTimes = 3;
/** What is remembered of the longest fades by this share with each change: in some days of a change in 15 s. */
const fades = 1 / 20_000;

function newRepeats(tMs: number, litres: number): LevelRepeats {
  return {
    litres,
    sinceMs: tMs,
    readings: 1,
    stepL: null,
    changes: 0,
    sigmaL: null,
    longest: 0,
    isFrozen: false,
  };
}

/** Follows what a level says, as it says it, litres; true when one that was frozen moves again. */
export function followRepeats(trace: Repeating, tMs: number, litres: number): boolean {
  trace.repeats ??= newRepeats(tMs, litres);
  const { repeats } = trace;
  const stepL = Math.abs(litres - repeats.litres);
  if (stepL < leastStepL) {
    repeats.readings += 1;
    return false;
  }
  const wasFrozen = repeats.isFrozen;
  const { readings, longest } = repeats;
  Object.assign(repeats, {
    litres,
    sinceMs: tMs,
    readings: 1,
    stepL: Math.min(stepL, repeats.stepL ?? stepL),
    changes: Math.min(enoughChanges, repeats.changes + 1),
    sigmaL: trace.sigmaCount < enoughChanges ? null : trace.sigmaL,
    // A fault that is over is no habit.
    longest: readings > longest && !wasFrozen ? readings : longest - (longest - readings) * fades,
    isFrozen: false,
  });
  return wasFrozen;
}

/**
 * Whether a level says the very same for longer than it can: its noise alone would have moved it. Of a normal noise no
 * single step holds more than `step ÷ (σ √(2π))`, its density at the middle; one that is coarser than its noise may stand
 * for hours, and nothing follows from that.
 */
export function isFlat({ repeats, lastMs }: Repeating): boolean {
  if (!repeats || repeats.changes < enoughChanges || !repeats.sigmaL || repeats.stepL === null) return false;
  const share = repeats.stepL / (repeats.sigmaL * Math.sqrt(2 * Math.PI));
  if (share >= 1) return false;
  const needs = Math.max(leastReadings, longestTimes * repeats.longest, Math.log(onceIn) / -Math.log(share));
  return repeats.readings > needs && (lastMs ?? 0) - repeats.sinceMs >= leastMs;
}
