import type { FaultLife, Scene } from "./scenes.ts";

/** What was told of a kit's other drum, which nothing befell, after the fault of the first. */
export interface OtherRow {
  readonly kit: string;
  readonly lives: number;
  /** Of each seed's longest life: with each fault of the first it lives the same hours again. */
  readonly hours: number;
  readonly wakes: number;
  readonly tells: number;
  /** Calls of all lives with all faults together, and those faults. */
  readonly calls: number;
  readonly faults: readonly string[];
}

/** Lives of one scene, one of each seed, in the order of their seeds. */
type LivedScene = readonly [scene: Scene, lives: readonly FaultLife[]];

/** How often each is among them. */
function countsOf(names: readonly string[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return counts;
}

/** The most that any of these lives was told of each kind. */
function mostOf(lives: readonly (readonly string[])[]): ReadonlyMap<string, number> {
  const most = new Map<string, number>();
  for (const calls of lives)
    for (const [name, count] of countsOf(calls)) most.set(name, Math.max(most.get(name) ?? 0, count));
  return most;
}

/** The other drum of a kit, if it has one: each seed counts once, by the most that any fault's life was told of each kind. */
export function otherRows(kit: string, lived: readonly LivedScene[]): readonly OtherRow[] {
  const others = lived.map(([{ name }, lives]) => ({ name, lives: lives.map(({ other }) => other) }));
  const seeds = Math.max(0, ...others.map(({ lives }) => (lives.some((one) => one) ? lives.length : 0)));
  if (seeds === 0) return [];
  const bySeed = Array.from({ length: seeds }, (_, at) =>
    others.flatMap(({ lives }) => {
      const one = lives[at];
      return one ? [one] : [];
    }),
  );
  const most = bySeed.flatMap((lives) => [...mostOf(lives.map(({ calls }) => calls))]);
  const sumOf = (attention: string) =>
    most.filter(([name]) => name.endsWith(`(${attention})`)).reduce((sum, [, count]) => sum + count, 0);
  const called = others.filter(({ lives }) => lives.some((one) => one && one.calls.length > 0));
  return [
    {
      kit,
      lives: seeds,
      hours: Math.round(
        bySeed.reduce((sum, lives) => sum + Math.max(0, ...lives.map(({ hours }) => hours)), 0),
      ),
      wakes: sumOf("wake"),
      tells: sumOf("tell"),
      calls: bySeed.flat().reduce((sum, { calls }) => sum + calls.length, 0),
      faults: called.map(({ name }) => name),
    },
  ];
}
