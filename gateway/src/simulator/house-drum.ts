/** A drum of the simulated house: it fills to its float and is drawn from. */
interface SimulatedDrum {
  litres: number;
  flowLPerMin: number;
  calling: boolean;
  floatUp: boolean;
  /** The float hangs: it does not trip, and a person ends the fill a little later. */
  stuck: boolean;
  /** How often the float changed over, and litres that came in, since the line began: what its nodes' counters go by. */
  floatChanges: number;
  filledL: number;
}

interface Filling {
  /** It may be filled now. */
  readonly wanted: boolean;
  readonly flowLPerMin: number;
  readonly minutes: number;
}

/** A float that hangs stops nothing: at this share of the drum a person comes and closes the tap. */
const closedByHandShare = 0.93;

/** What a drum of the simulated house has. */
export interface HouseDrumOptions {
  readonly capacityL: number;
  /** Litres at which the float rises and falls again. */
  readonly risesL: number;
  readonly fallsL: number;
  readonly litres: number;
  readonly floatUp: boolean;
}

/** A drum with its float. */
export function createHouseDrum({ capacityL, risesL, fallsL, litres, floatUp }: HouseDrumOptions) {
  const drum: SimulatedDrum = {
    litres,
    flowLPerMin: 0,
    calling: false,
    floatUp,
    stuck: false,
    floatChanges: 0,
    filledL: 0,
  };

  return {
    drum,
    capacityL,
    /** Low enough to call. */
    isLow: () => drum.litres <= fallsL,
    draw(drawnL: number): void {
      drum.litres = Math.max(0.03 * capacityL, drum.litres - drawnL);
    },
    fill({ wanted, flowLPerMin, minutes }: Filling, random: () => number): void {
      const wasUp = drum.floatUp;
      if (wanted && drum.litres <= fallsL && !wasUp) drum.calling = true;
      if (!drum.stuck && drum.litres >= risesL) drum.floatUp = true;
      if (drum.litres <= fallsL) drum.floatUp = false;
      if (drum.calling && (drum.stuck ? drum.litres >= closedByHandShare * capacityL : drum.floatUp)) {
        drum.calling = false;
        drum.floatUp = !drum.stuck;
        drum.stuck = false;
      }
      drum.flowLPerMin = drum.calling ? flowLPerMin * (0.97 + 0.06 * random()) : 0;
      drum.litres += drum.flowLPerMin * minutes;
      drum.filledL += drum.flowLPerMin * minutes;
      if (drum.floatUp !== wasUp) drum.floatChanges += 1;
    },
  };
}
