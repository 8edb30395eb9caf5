import type { FaultLife, Scene } from "./scenes.ts";

/** What was told in the hours before any fault, which all faults of a kit have in common. */
export interface CalmRow {
  readonly kit: string;
  /** The kit is topped up by 3 L at a time: a calm of its own. */
  readonly topUps: boolean;
  readonly lives: number;
  /** All lives together. */
  readonly hours: number;
  readonly wakes: number;
  readonly tells: number;
}

/** One scene with what came of a kit's lives, each of another seed. */
type LivedScene = readonly [scene: Scene, lives: readonly FaultLife[]];

/** The calm hours of a kit: once for each seed, however many faults came after them. */
export function calmRows(kit: string, lived: readonly LivedScene[]): readonly CalmRow[] {
  return [false, true].flatMap((topUps) => {
    const [first] = lived
      .filter(([scene, lives]) => scene.topUps === topUps && lives.length > 0)
      .sort(([, one], [, other]) => other.length - one.length);
    if (!first) return [];
    const [, lives] = first;
    const sum = (of: (life: FaultLife) => number) => lives.reduce((all, life) => all + of(life), 0);
    return [
      {
        kit,
        topUps,
        lives: lives.length,
        hours: Math.round(sum(({ calm }) => calm.hours)),
        wakes: sum(({ calm }) => calm.wakes),
        tells: sum(({ calm }) => calm.tells),
      },
    ];
  });
}
