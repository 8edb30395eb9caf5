/** What a simulated drum is, and how it is fed. */
export interface DrumSetting {
  /** Litres up to the edge over which it runs, and those at its begin. */
  readonly volumeL: number;
  readonly startL: number;
  /** Litres at which its stop float rises and falls again. */
  readonly tripsL: number;
  readonly releasesL: number;
  readonly flowLPerMin: number;
  /** What a valve that does not close lets through. */
  readonly leakLPerMin: number;
  /** Under it the meter stands still. */
  readonly meterStartsLPerMin: number;
  /** Standard deviation of one reading of its level. */
  readonly levelSpreadL: number;
  readonly behind: "resin" | "membrane";
  readonly control: DrumControl;
}

/** Who opens the way: the float alone; a clock besides (then the float closes); a person, who presses "I'm filling now". */
export type DrumControl =
  | { readonly by: "float" }
  | { readonly by: "timer"; readonly everyS: number; readonly openS: number }
  | {
      readonly by: "person";
      /** Comes when the drum has no more than this, in these hours of the day. */
      readonly comesAtL: number;
      readonly hours: readonly [from: number, to: number];
      /** Of the fills, those at which the press is forgotten. */
      readonly forgetsShare: number;
    };

/** 200 L behind resin at 4 L/min, float 160 / 180 L. */
export const drumBehindResin: DrumSetting = {
  volumeL: 200,
  startL: 175,
  tripsL: 180,
  releasesL: 160,
  flowLPerMin: 4,
  leakLPerMin: 0.3,
  meterStartsLPerMin: 0.5,
  levelSpreadL: 0.25,
  behind: "resin",
  control: { by: "float" },
};

/** The same behind a membrane alone: 0.5 L/min of a few percent of the feed's salts, with a meter made for so little. */
export const drumBehindMembrane: DrumSetting = {
  ...drumBehindResin,
  flowLPerMin: 0.5,
  leakLPerMin: 0.04,
  meterStartsLPerMin: 0.06,
  behind: "membrane",
};
