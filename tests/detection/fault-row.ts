import type { FaultLife, Scene } from "./scenes.ts";

/** What came of one fault with one kit. */
export interface FaultRow {
  readonly kit: string;
  readonly fault: string;
  readonly seeds: number;
  /** Lives in which any condition rose after the fault, and in which one called a person. */
  readonly seen: number;
  readonly told: number;
  /** Lives in which the call came before water ran over the edge. */
  readonly beforeBrim: number;
  /** Lives in which it ran over if nobody came, and of those the ones in which the call came later than that. */
  readonly floods: number;
  readonly floodsUntold: number;
  /** Floods of which nothing that could be read tells: nobody had said that they fill. */
  readonly hidden: number;
  /** Greatest over the lives, until somebody was called (or the life's end). */
  readonly litresOnFloor: number;
  /** From the fault to the call, min, median and 90th percentile; null: nobody was called. */
  readonly minutesToTell: number | null;
  readonly minutesToTellP90: number | null;
  /** Lives in which somebody was woken though no stop had failed. */
  readonly falselyWoken: number;
  /** Lives in which the word said `use` while the drum was over its band. */
  readonly useWhenFalse: number;
  /** Lives in which the drum was over its band before a call or `hold`. */
  readonly overUnheld: number;
  readonly conditions: readonly string[];
}

const round = (value: number) => Math.round(10 * value) / 10;

/** The row of one kit and one scene, of its lives. */
export function faultRow(kit: string, scene: Scene, lives: readonly FaultLife[]): FaultRow {
  const minutes = lives
    .flatMap(({ minutesToCall }) => (minutesToCall === null ? [] : [minutesToCall]))
    .sort((a, b) => a - b);
  const quantile = (share: number) => {
    const at = minutes[Math.min(minutes.length - 1, Math.floor(share * minutes.length))];
    return at === undefined ? null : round(at);
  };
  const count = (is: (life: FaultLife) => boolean) => lives.filter(is).length;
  return {
    kit,
    fault: scene.name,
    seeds: lives.length,
    seen: count(({ isSeen }) => isSeen),
    told: count(({ minutesToCall }) => minutesToCall !== null),
    beforeBrim: count(({ minutesToCall, floorL }) => minutesToCall !== null && floorL === 0),
    floods: count(({ floods }) => floods),
    floodsUntold: count(
      ({ floods, minutesToCall, floorL }) => floods && (minutesToCall === null || floorL > 0),
    ),
    hidden: count(({ isHidden }) => isHidden),
    litresOnFloor: round(Math.max(0, ...lives.map(({ floorL }) => floorL))),
    minutesToTell: quantile(0.5),
    minutesToTellP90: quantile(0.9),
    falselyWoken: count((life) => life.falselyWoken),
    useWhenFalse: count((life) => life.useWhenFalse),
    overUnheld: count((life) => life.overUnheld),
    conditions: [...new Set(lives.flatMap(({ conditions }) => conditions))].sort(),
  };
}
