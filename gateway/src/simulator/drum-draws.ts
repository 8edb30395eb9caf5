const hourS = 3600;
const dayS = 24 * hourS;
const bucketS = 10;
const changeLPerMin = 10;

/** When and how much is drawn from a simulated drum. */
export interface DrawHabits {
  /** Hours of the model's day in which buckets are drawn. */
  readonly hours: readonly [from: number, to: number];
  /** Mean time between two buckets, s. */
  readonly everyS: number;
  /** Litres of a bucket, from and to; without it 4 to 9 L. */
  readonly bucketL?: readonly [from: number, to: number];
  /** One large water change a day, at noon. */
  readonly changes: boolean;
  /** From then on nobody draws, s; null: the draws go on. */
  readonly endS: number | null;
}

const usualBucketL = [4, 9] as const;

/** Draws by bucket and by a daily water change (60 to 90 L), as a flow. */
export function createSimulatedDraws(habits: DrawHabits, random: () => number) {
  const { hours, everyS, changes, endS } = habits;
  const [leastL, greatestL] = habits.bucketL ?? usualBucketL;
  let nextS = hours[0] * hourS;
  let bucketL = 0;
  let bucketUntilS = 0;
  let changeUntilS = 0;

  return {
    /** L/min drawn at this second. */
    flow(nowS: number): number {
      const ofDayS = nowS % dayS;
      if (changes && ofDayS === 12 * hourS) changeUntilS = nowS + ((60 + 30 * random()) / changeLPerMin) * 60;
      if (nowS >= nextS) {
        bucketL = leastL + (greatestL - leastL) * random();
        bucketUntilS = nowS + bucketS;
        nextS = nowS + everyS * (0.5 + random());
      }
      if (endS !== null && nowS >= endS) return 0;
      const isOpen = ofDayS >= hours[0] * hourS && ofDayS < hours[1] * hourS;
      const bucket = isOpen && nowS < bucketUntilS ? (bucketL * 60) / bucketS : 0;
      return bucket + (nowS < changeUntilS ? changeLPerMin : 0);
    },
  };
}
