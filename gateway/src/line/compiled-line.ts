import type {
  ChannelName,
  ChannelUse,
  Drum,
  DrumLevel,
  Float,
  LimitValue,
  Line,
  LineStage,
  Point,
} from "./line.ts";
import type { MeasuredQuantity } from "./signals.ts";
import type { FloatRole, Subject } from "./subject.ts";
import type { ThingKind } from "./things.ts";

/** What a channel measures, as it is stored. */
export interface MeasuredSeries {
  /** Its number among all series of the line, from 0 without a gap. */
  readonly id: number;
  readonly subject: Subject;
  readonly quantity: MeasuredQuantity;
  /** `point/after-resin/conductivity25`: a name, never taken apart. */
  readonly name: string;
}

/** A channel of the line, with everything that its readings are turned into measurements by. */
export interface Slot {
  /** Its number among the channels of the line, from 0 without a gap, in the order of the file. */
  readonly index: number;
  readonly channel: ChannelName;
  readonly node: string;
  /** The channel's name at its node. */
  readonly name: string;
  readonly use: ChannelUse;
  readonly subject: Subject;
  /** Series of its readings as they came, by the SenML unit that they may have; null: without one. */
  readonly readingSeries: ReadonlyMap<string | null, string>;
  /** Series of what each of its readings becomes, then of what some may become besides. */
  readonly series: readonly MeasuredSeries[];
  /** The temperature channel of the same point or drum. */
  readonly ownTemperature: ChannelName | null;
  /** Temperature channels of other points, nearest along the flow first. */
  readonly nearTemperatures: readonly ChannelName[];
  /** The drum's level, with the table that turns this channel's heights into litres; null where it is none. */
  readonly level: DrumLevel | null;
  /** The raw contact value that means wet, open, running; "closed means wet" where the sense is not known yet. */
  readonly activeWhen: boolean;
}

/** Where the flow past a point is metered. */
export interface Meter {
  /** The point that the metered water passes. */
  readonly point: string;
  /** What its measurements are told of: the flow past the point. */
  readonly subject: Subject;
  /** The point's own meter, and those of stages that end there. */
  readonly channels: readonly ChannelName[];
  /** Ids of the drums whose water passes it. */
  readonly drums: readonly string[];
}

/** A meter as one drum sees it. */
export interface MeterOfDrum {
  readonly meter: Meter;
  /** Ids of the other drums whose water passes it too. */
  readonly sharedWith: readonly string[];
}

/** A drum behind a point, with the meters between the two. */
export interface DrumBehind {
  readonly drum: Drum;
  /** Behind the point, all that the drum's water passes, nearest the drum first. */
  readonly meters: readonly Meter[];
}

/** A point with its place in the flow. */
export interface CompiledPoint {
  readonly index: number;
  readonly id: string;
  readonly point: Point;
  /** The stage that ends here, the first of those that lie side by side; null at the supply. */
  readonly stageInto: LineStage | null;
  /** All stages that end here. */
  readonly stagesInto: readonly LineStage[];
  /** Stages between the supply and here, in the order of flow, one of those that lie side by side. */
  readonly stagesBefore: readonly LineStage[];
  /** The run of resin that ends here, nearest first; empty where none does. */
  readonly resinBefore: readonly LineStage[];
  /** The water that this resin gets; null where no resin ends here. */
  readonly resinFeed: Point | null;
  /** The probe that sees that water. */
  readonly resinFeedProbe: Point | null;
  /** The nearest point with a conductivity probe, here or against the flow, with no resin or membrane between. */
  readonly probeBefore: Point | null;
  /** The meter of the flow past here; null where there is none. */
  readonly meter: Meter | null;
  /** Points reached from here with the flow, this one first. */
  readonly pointsBehind: readonly Point[];
  /** All points of the same water: this one, then against the flow, then with it. */
  readonly pointsByNearness: readonly Point[];
  /** Drums that water from here ends in. */
  readonly drumsBehind: readonly DrumBehind[];
}

/** A stage with what ends behind it. */
export interface CompiledStage {
  readonly index: number;
  readonly id: string;
  readonly stage: LineStage;
  readonly from: Point;
  readonly to: Point;
  /** Drums that water of this stage ends in. */
  readonly drumsBehind: readonly Drum[];
}

/** A drum with what it is fed by. */
export interface CompiledDrum {
  readonly index: number;
  readonly id: string;
  readonly drum: Drum;
  /** The points that its water passes, nearest first: from where it is fed to the supply. */
  readonly feedingPoints: readonly Point[];
  /** The stages that its water passes, nearest first. */
  readonly feedingStages: readonly LineStage[];
  /** Meters that all of its water passes, nearest first; not the drum's own. */
  readonly meters: readonly MeterOfDrum[];
  /** The point whose probe sees its water: only sediment and carbon filters lie between. Where none does, where it is fed. */
  readonly seenAt: Point;
  /** Other drums that are fed by the same point. */
  readonly fedTogether: readonly Drum[];
  readonly floats: ReadonlyMap<FloatRole, Float>;
}

/** A float and its drum. */
export interface CompiledFloat {
  readonly id: string;
  readonly float: Float;
  readonly drum: Drum;
  readonly subject: Subject;
}

/** A line as the stages of the path use it: looked up once for each version, and not for each reading. */
export interface CompiledLine {
  readonly line: Line;
  readonly slots: readonly Slot[];
  readonly slotOf: ReadonlyMap<ChannelName, Slot>;
  /** The slots of each node, in their order. */
  readonly slotsOfNode: ReadonlyMap<string, readonly Slot[]>;
  /** All series of measurements, by their id. */
  readonly series: readonly MeasuredSeries[];
  readonly seriesNamed: ReadonlyMap<string, MeasuredSeries>;
  readonly points: ReadonlyMap<string, CompiledPoint>;
  readonly stages: ReadonlyMap<string, CompiledStage>;
  readonly drums: ReadonlyMap<string, CompiledDrum>;
  /** By their ids. */
  readonly floats: ReadonlyMap<string, CompiledFloat>;
  /** Ids of all things of a kind, in the order of the file. */
  idsOf(kind: ThingKind): readonly string[];
  /** Whether the line has such a thing: acts and addresses can't make one up. */
  has(kind: ThingKind, id: string): boolean;
  hasPoint(id: string): boolean;
  hasStage(id: string): boolean;
  hasDrum(id: string): boolean;
  hasFloat(id: string): boolean;
  hasChannel(channel: string): boolean;
  hasNode(node: string): boolean;
  /** What the file sets of a condition and subject (a channel as `node/channel`); empty where it sets nothing. */
  settingsOf(condition: string, subject: string): Readonly<Record<string, LimitValue>>;
}
