import type { Chlorine, Tests, Where } from "./chlorine.ts";
import { inDrum, isOnTheWay } from "./tested-where.ts";

/** Whether a test that passed at `other` speaks against one that failed at `where`, of a drum behind the carbon of `last`. */
const clears = (other: Where, where: Where, last: Where): boolean =>
  other === where || other === last || (isOnTheWay(where, other) && isOnTheWay(other, last));

/**
 * What tests tell of a drum behind the carbon of `last`. Behind the last carbon on its way they decide: what the carbon before that
 * lets through is found, and fails it only until a newer one behind the last passes. A drum that passes tells of what is in it: the
 * carbon before it, which failed, lets as much into the next fill.
 */
export function chlorineOf(drum: string, last: Where, tests: Tests): Chlorine {
  const all = Object.entries(tests) as [Where, Tests[Where]][];
  // Of two of one time and place the worse counts; of two places on one way the later one.
  const isSince = (other: Where, where: Where, passedMs: number | null, atMs: number) =>
    passedMs !== null && (isOnTheWay(where, other) ? passedMs >= atMs : passedMs > atMs);
  const passedSince = (where: Where, atMs: number, isAsked: (other: Where) => boolean) =>
    all.some(
      ([other, { passedMs }]) =>
        isAsked(other) && clears(other, where, last) && isSince(other, where, passedMs, atMs),
    );
  const found = all.flatMap(([where, { failed }]) => (failed ? [{ where, failed }] : []));
  const stands = found
    .filter(({ where, failed }) => !passedSince(where, failed.atMs, () => true))
    .sort((a, b) => a.failed.atMs - b.failed.atMs);
  const isPassed = ([where, { passedMs }]: [Where, Tests[Where]]) =>
    (where === last || where === inDrum || stands.length === 0) &&
    stands.every(({ failed }) => failed.atMs !== passedMs);
  const passed = all.filter(isPassed).flatMap(([, { passedMs }]) => passedMs ?? []);
  const newest = stands.at(-1)?.failed;
  const own = found.find(
    ({ where, failed }) => where === inDrum && !passedSince(inDrum, failed.atMs, (other) => other === inDrum),
  );
  const spent = found
    .filter(
      ({ where, failed }) =>
        // What was found before all carbon is what that is there for.
        where !== "" &&
        isOnTheWay(where, last) &&
        !passedSince(where, failed.atMs, (other) => other === where),
    )
    .at(-1);
  return {
    kind: "chlorine",
    drum,
    passedMs: passed.length > 0 ? Math.max(...passed) : null,
    failed: newest
      ? {
          ...newest,
          enteredMs: Math.max(...stands.map(({ failed }) => failed.enteredMs)),
          ...(stands.every(({ where }) => where === inDrum) ? { inDrum: true } : {}),
        }
      : null,
    ...(own ? { own: own.failed } : {}),
    ...(spent && stands.length === 0 ? { spent: spent.failed } : {}),
    tests,
  };
}
