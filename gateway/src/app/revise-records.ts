import type { Batch, DrumWater, Fill } from "../fills/index.ts";
import { type Logbook, type Replacing, replacingAll } from "../logbook/index.ts";
import type { Seen } from "../nights/index.ts";
import type { Interval } from "./history.ts";
import type { Outcome } from "./pipeline.ts";

/** What of the logbook a derivation replaces. */
export type RevisedBook = Pick<
  Logbook,
  "record" | "lastWords" | "lastBatches" | "replacingWords" | "replacingBatches" | "replacingSeen"
>;

/** Puts the derived words in place of those of the stretch, up to each drum's last word: that one is the live path's. */
function* revisingWords(
  logbook: RevisedBook,
  { fromMs, toMs }: Interval,
  words: readonly DrumWater[],
): Generator<Replacing> {
  for (const { drum, atMs } of logbook.lastWords()) {
    const untilMs = Math.min(toMs, atMs);
    const own = words.filter((word) => word.drum === drum && word.atMs >= fromMs && word.atMs < untilMs);
    if (own.length > 0) yield logbook.replacingWords(fromMs, untilMs, own);
  }
}

/** The same for the turns of batches. */
function* revisingBatches(
  logbook: RevisedBook,
  { fromMs, toMs }: Interval,
  batches: readonly Batch[],
): Generator<Replacing> {
  for (const { drum, atMs } of logbook.lastBatches()) {
    const untilMs = Math.min(toMs, atMs);
    const own = batches.filter((one) => one.drum === drum && one.atMs >= fromMs && one.atMs < untilMs);
    if (own.length > 0) yield logbook.replacingBatches(fromMs, untilMs, own);
  }
}

const beganMs = (seen: Seen) => (seen.kind === "float-change" ? seen.atMs : seen.fromMs);

/** Puts what was seen anew in place of what was seen in the stretch; a gap that goes on at its end is the live path's. */
function revisingSeen(logbook: RevisedBook, { fromMs, toMs }: Interval, seen: readonly Seen[]): Replacing {
  const own = seen.filter(
    (one) => beganMs(one) >= fromMs && beganMs(one) < toMs && !(one.kind === "gap" && one.toMs === null),
  );
  return logbook.replacingSeen(fromMs, toMs, own);
}

const derivedKinds: ReadonlySet<Outcome["kind"]> = new Set([
  "fill",
  "drum-water",
  "batch",
  "gap",
  "draw",
  "float-change",
]);

/** Whether a derivation puts it down in the logbook. */
export const isDerived = ({ kind }: Outcome): boolean => derivedKinds.has(kind);

/** Records that came out of a derivation, in calendar time. */
export class DerivedRecords {
  /** Fills that have ended. */
  readonly fills: Fill[] = [];
  private readonly words: DrumWater[] = [];
  private readonly batches: Batch[] = [];
  private readonly seen: Seen[] = [];

  take(outcome: Outcome): void {
    if (outcome.kind === "fill") {
      if (outcome.endedAtMs !== null) this.fills.push(outcome);
    } else if (outcome.kind === "drum-water") this.words.push(outcome);
    else if (outcome.kind === "batch") this.batches.push(outcome);
    else if (outcome.kind === "gap" || outcome.kind === "draw" || outcome.kind === "float-change")
      this.seen.push(outcome);
  }

  /** Puts all but the fills in place of those of the stretch: compared first, then in one transaction. */
  replacing(logbook: RevisedBook, stretch: Interval): Replacing {
    return replacingAll([
      ...revisingWords(logbook, stretch, this.words),
      ...revisingBatches(logbook, stretch, this.batches),
      revisingSeen(logbook, stretch, this.seen),
    ]);
  }
}
