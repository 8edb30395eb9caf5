import type { HandTest } from "../../acts/index.ts";
import { compileLine, type Drum, type Line } from "../../line/index.ts";
import type { Chlorine, Tests, Where } from "./chlorine.ts";

/** In the drum itself. */
export const inDrum: Where = "@drum";
/** Nobody knows any more where: of versions before. It counts as on the way to the drum. */
const somewhere: Where = "@somewhere";

/** Whether the carbon of `where` lies before more carbon, on the way to what is behind that of `last`. */
export const isOnTheWay = (where: Where, last: Where): boolean =>
  where !== last && !last.startsWith("@") && (where === "" || last.startsWith(`${where},`));

const carbonOf = (line: Line, point: string): Where =>
  (compileLine(line).points.get(point)?.stagesBefore ?? [])
    .flatMap(({ id, kind }) => (kind === "carbon" ? [id] : []))
    .join();

/** All the carbon before a drum; empty: none. */
export const carbonBefore = (line: Line, { fedBy }: Drum): Where => carbonOf(line, fedBy);

/** Drums of whose water a test at a place tells: those behind it, if carbon lies before it or there is none at all. */
export function drumsTestedAt(
  line: Line,
  { kind, id }: HandTest["place"],
): { readonly where: Where; readonly drums: readonly Drum[] } {
  if (kind === "drum") return { where: inDrum, drums: line.drums.filter((drum) => drum.id === id) };
  const where = carbonOf(line, id);
  const tellsNothing = where === "" && line.stages.some((stage) => stage.kind === "carbon");
  const behind = compileLine(line).points.get(id)?.drumsBehind ?? [];
  return { where, drums: tellsNothing ? [] : behind.map(({ drum }) => drum) };
}

/** A test as it counts. */
interface Tested {
  readonly atMs: number;
  readonly enteredMs: number;
  readonly value: number;
  readonly passed: boolean;
}

/** With one test more. They may be entered in any order: the newest counts, of two of one time the worse. */
export function withTest(tests: Tests, where: Where, { atMs, enteredMs, value, passed }: Tested): Tests {
  const { passedMs, failed } = tests[where] ?? { passedMs: null, failed: null };
  if (passed) {
    if (passedMs !== null && passedMs >= atMs) return tests;
    return { ...tests, [where]: { passedMs: atMs, failed } };
  }
  if (failed && (failed.atMs > atMs || (failed.atMs === atMs && failed.value >= value))) return tests;
  return { ...tests, [where]: { passedMs, failed: { atMs, enteredMs, value } } };
}

/** What is known of a drum's tests, of versions before as well. */
export function testsOf(known: Chlorine | undefined): Tests {
  if (!known) return {};
  const { passedMs, failed, tests } = known;
  if (tests) return tests;
  // Only its own water can have passed after something was found that still stands.
  const isOwn = failed !== null && (passedMs ?? 0) > failed.atMs;
  return {
    ...(isOwn ? { [inDrum]: { passedMs, failed: null } } : {}),
    [failed?.inDrum ? inDrum : somewhere]: {
      passedMs: isOwn ? null : passedMs,
      failed: failed && { atMs: failed.atMs, enteredMs: failed.enteredMs, value: failed.value },
    },
  };
}

/** Without what was found nobody knows where, once a record of it says where. */
export function withPlace(tests: Tests): Tests {
  const { [somewhere]: unplaced, ...placed } = tests;
  const found = unplaced?.failed;
  if (!unplaced || !found) return tests;
  if (!Object.values(placed).some(({ failed }) => failed?.atMs === found.atMs)) return tests;
  return { ...placed, [somewhere]: { ...unplaced, failed: null } };
}

/**
 * What is known of a drum that the line has put behind the carbon of `last`: what that let through for another drum, it lets through
 * for this one too, whatever passed where it was. What passed behind all of it since speaks for this one as well.
 */
export function behindCarbon(tests: Tests, last: Where, others: Iterable<Chlorine>): Tests {
  let now = tests;
  const theirs = Array.from(others, testsOf);
  const passedLastMs = Math.max(0, ...theirs.map((one) => one[last]?.passedMs ?? 0));
  for (const one of theirs)
    for (const [where, { passedMs, failed }] of Object.entries(one)) {
      const isBefore = last !== "" && (where === last || isOnTheWay(where, last));
      const sinceMs = Math.max(passedMs ?? 0, where === last ? 0 : passedLastMs);
      if (isBefore && failed && sinceMs <= failed.atMs)
        now = withTest(now, where, { ...failed, passed: false });
    }
  return now;
}
