import type { HandTest } from "../../acts/index.ts";
import { compileLine, type Drum, type Line } from "../../line/index.ts";

/**
 * Total chlorine behind carbon, mg/L as Cl2: at or above it a test fails. The strictest figure in use for carbon tanks: AAMI
 * RD62 (2001), 0.1 mg/L where total chlorine alone is tested. Aquatic life bears less (EPA 440/5-84-030: 0.011 mg/L over
 * four days), but no test strip reads that.
 */
const failsFrom = 0.1;
/** A test that passed tells for so long (common practice, no source). */
export const testAgainMs = 7 * 86_400_000;

/** What tests by hand say of the chlorine in what a drum is filled with. */
export interface Chlorine {
  readonly kind: "chlorine";
  readonly drum: string;
  /** Time of the newest test that passed; null: none did. */
  readonly passedMs: number | null;
  /**
   * Of the newest test that failed, if none passed after it, and when it was entered. `inDrum`: in the drum itself; else, and in
   * rows of versions before, on the way to it.
   */
  readonly failed: {
    readonly atMs: number;
    readonly enteredMs: number;
    readonly value: number;
    readonly inDrum?: true;
  } | null;
}

/** Drums of whose water a test at a place tells: those behind it, if carbon lies before it or there is none at all. */
export function drumsTestedAt(line: Line, { kind, id }: HandTest["place"]): readonly string[] {
  if (kind === "drum") return [id];
  const hasCarbon = line.stages.some((stage) => stage.kind === "carbon");
  const point = compileLine(line).points.get(id);
  if (hasCarbon && !point?.stagesBefore.some((stage) => stage.kind === "carbon")) return [];
  return (point?.drumsBehind ?? []).map(({ drum }) => drum.id);
}

/** Carbon before a drum, by the names of its stages; empty: none. */
const carbonBefore = (line: Line, { fedBy }: Drum): string =>
  (compileLine(line).points.get(fedBy)?.stagesBefore ?? [])
    .flatMap(({ id, kind }) => (kind === "carbon" ? [id] : []))
    .join();

/** Whether a drum is filled through the carbon that it was filled through in the line before; also where there was none. */
export function isWhereItWas(drum: Drum, line: Line, was: Line | null): boolean {
  const before = was?.drums.find(({ id }) => id === drum.id);
  return was === null || (before !== undefined && carbonBefore(was, before) === carbonBefore(line, drum));
}

/**
 * What is known of a drum that the line has put behind other carbon, or that it did not have: carbon that failed for another drum, of
 * this line or the one before, fails for this one, whatever passed where it was; null: nothing new.
 */
export function byItsCarbon(
  drum: Drum,
  {
    line,
    was,
    known,
  }: { readonly line: Line; readonly was: Line | null; readonly known: ReadonlyMap<string, Chlorine> },
): Chlorine | null {
  const carbon = carbonBefore(line, drum);
  const mine = known.get(drum.id) ?? { kind: "chlorine", drum: drum.id, passedMs: null, failed: null };
  if (carbon === "") return null;
  const failed = [line, was]
    .flatMap((one) => one?.drums.filter((other) => carbonBefore(one, other) === carbon) ?? [])
    .map(({ id }) => known.get(id)?.failed ?? null)
    .find((one) => one !== null && one.inDrum !== true);
  return failed ? { ...mine, failed } : null;
}

/**
 * Whether a test passed or failed; null: it tells nothing. Free chlorine passes only where the supply is known to carry no
 * chloramine: that is combined chlorine, which a test of free chlorine does not see.
 */
export function resultOf(
  { what, value, below }: HandTest,
  disinfectant: Line["disinfectant"],
): boolean | null {
  const passes = below ? value <= failsFrom : value < failsFrom;
  if (!passes) return below ? null : false;
  return what === "total-chlorine" || disinfectant === "chlorine" ? true : null;
}

/** A test as it counts for a drum; `inDrum`: taken from the drum itself. */
interface Tested {
  readonly atMs: number;
  readonly enteredMs: number;
  readonly value: number;
  readonly passed: boolean;
  readonly inDrum: boolean;
}

/**
 * What is known after a test. Tests may be entered in any order; of two of one time the worse one counts. A drum that passes
 * tells of what is in it: the carbon before it, which failed, lets as much into the next fill.
 */
export function afterTest(known: Chlorine, { atMs, enteredMs, value, passed, inDrum }: Tested): Chlorine {
  const { passedMs, failed } = known;
  if (passed) {
    if (failed?.atMs === atMs) return known;
    const newest = Math.max(atMs, passedMs ?? atMs);
    const stands = failed !== null && (failed.atMs > newest || (inDrum && !failed.inDrum));
    return { ...known, passedMs: newest, failed: stands ? failed : null };
  }
  const isOlder = (passedMs !== null && passedMs > atMs) || (failed !== null && failed.atMs >= atMs);
  if (isOlder) return known;
  const isOwn = inDrum && (failed === null || failed.inDrum === true);
  return {
    ...known,
    passedMs: passedMs === atMs ? null : passedMs,
    failed: { atMs, enteredMs, value, ...(isOwn ? { inDrum: true } : {}) },
  };
}
