/** What one witness says of the inflow of a drum: water runs, stands, or (null) it can't tell. */
export interface Said {
  readonly flowing: boolean | null;
  /** Since when it says so, by the time of its readings. */
  readonly sinceMs: number;
  /** L/min; null where it only tells that water runs. */
  readonly flowLPerMin: number | null;
}

/** A meter on the way to a drum. */
export interface MeterSaid extends Said {
  readonly key: string;
  /** Litres counted since it was first heard, up to its last reading, and those of bridged silences in them. */
  readonly totalL: number;
  /** What it was when the meter last stood: where a run that has just been seen began. */
  readonly stillL: number;
  readonly bridgedL: number;
  readonly lastBridgedMs: number;
  /** When its own total last told what a silence had brought, be it nothing; absent: never. */
  readonly coveredMs?: number;
  readonly lastMs: number | null;
  /** What a silence without power left out of its litres the last time; absent: never, or it was put back. */
  readonly leftOut?: { readonly fromMs: number; readonly toMs: number; readonly litres: number };
  readonly periodMs: number;
  /** It has said 0 without a break since; null while it says otherwise or nothing. */
  readonly zeroSinceMs: number | null;
  /** Median of its last three flows; null while it is silent. */
  readonly steadyLPerMin: number | null;
  /** It also serves taps or other drums. */
  readonly isShared: boolean;
  readonly hasTaps: boolean | null;
  /** What it says had waited in its node: it tells nothing of now. */
  readonly isLate?: true;
}

/** A drum's level. */
export interface LevelSaid extends Said {
  /** Litres in the drum now, as far as they are believed. */
  readonly litres: number | null;
  /** Of them, by pressure: what salt and its density did since it was first heard, and no water. */
  readonly saltL: number;
  /** The last believed reading, and when it was read. */
  readonly lastL: number | null;
  readonly readMs: number | null;
  /** When it was last heard, believed or not. */
  readonly lastMs: number | null;
  /** Litres that count inflow alone: with what was drawn, without what was poured in by hand. */
  readonly inflowL: number | null;
  /** The same at the last standstill: where a rise began, or ended. */
  readonly stillL: number | null;
  readonly drawnL: number;
  /** What is being drawn now and is not in `drawnL` yet. */
  readonly fallingL: number;
  readonly handL: number;
  /** Of `drawnL`, what the level did not fall by: taken to have come in while it fell. */
  readonly guessedL: number;
  readonly sigmaL: number;
  /** A change under this is noise, L. */
  readonly noticeableL: number;
  readonly stepL: number;
  readonly periodMs: number;
  /** How fast it rises or falls now, L/min, whether or not that is more than noise. */
  readonly slopeLPerMin: number | null;
  readonly isLost: boolean;
  /** It says the very same while water is to come, though it has noise of its own: it is stuck. */
  readonly isFrozen: boolean;
  /** It could tell before and can't now: it falls, has just fallen, is lost or silent. */
  readonly isAway: boolean;
  /** It falls, or fell while the drum called: whether water comes it can't show yet. */
  readonly isInDraw: boolean;
}

/** A float. */
export interface FloatSaid {
  readonly wet: boolean | null;
  readonly sinceMs: number;
  readonly heard: boolean;
  readonly lastMs: number;
  readonly periodMs: number;
  /** It has read wet, does not chatter, and its second reading is awaited: it may have tripped; absent: not. */
  readonly mayBeUp?: true;
  /** It read wet twice within 2 min. */
  readonly wetTwice: boolean;
  /** It changed over more than three times in the last 5 min, each raw reading and its node's own count counted. */
  readonly chatters: boolean;
  readonly edgeInSilence: { readonly fromMs: number; readonly toMs: number } | null;
  /** When its level showed that one of the two had been moved; absent: never. */
  readonly movedMs?: number;
  readonly tripsAtL: number | null;
  readonly releasesAtL: number | null;
}

/** Everything that tells of one drum's inflow now. Plain data, made anew at each step that touches the drum. */
export interface DrumWitnesses {
  readonly drum: string;
  /** Greatest time of a reading that was taken into it. */
  readonly atMs: number;
  /** Nearest the drum first. */
  readonly meters: readonly MeterSaid[];
  readonly level: LevelSaid | null;
  readonly inlet: Said | null;
  readonly pump: Said | null;
  readonly stop: FloatSaid | null;
  readonly overflow: FloatSaid | null;
  readonly person: Said | null;
  /** A person adds fresh water to the salt water in it, however its float stands; absent: nobody does. */
  readonly addsWater?: true;
  /** Its level came to rest when its stop float tripped, though the meter runs on: none of that runs into it. */
  readonly restsSinceTrip: boolean;
  /** Its level says still that it rises, and its readings have not risen since its stop float tripped; absent: not so. */
  readonly levelIsOfBefore?: true;
  /** It is as full as it can be, and water that its shared meter counts still comes. */
  readonly runsOver: boolean;
  /** Other drums behind its meters: what they say of themselves. */
  readonly others: readonly {
    readonly drum: string;
    readonly flowing: boolean | null;
    /** Its float asks for water, whatever else it says. */
    readonly calls: boolean;
    readonly slopeLPerMin: number | null;
  }[];
  /** When something that tells of inflow was last heard. */
  readonly heardMs: number | null;
  /** What waited in a node comes in: up to when the one that is farthest behind has told; absent: none is. */
  readonly lateMs?: number;
  /** Greatest flow into it that was ever seen, L/min. */
  readonly greatestFlowLPerMin: number | null;
}
