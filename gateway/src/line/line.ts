/**
 * The line as data: what `line.yaml` says after validation, with every default filled in.
 * It is stored in the journal's `line` entries only as YAML and rebuilt from it.
 */

import type { Expected, Notify } from "./notify.ts";
import type { DrumChannel, PointChannel } from "./schema.ts";
import type { Signal } from "./signals.ts";
import type { FloatRole, Subject } from "./subject.ts";

/** A channel's full name: `node/channel`, for example `press/ec-1`. */
export type ChannelName = string;

/** How conductivity becomes reference conductivity. `at25` means that the channel says it already is. */
export type Compensation = "none" | "linear" | "natural" | "pure";

/** How one channel is used by the line. A channel has one use. */
export interface ChannelUse {
  readonly channel: ChannelName;
  readonly signal: Signal;
  readonly subject: Subject;
  /** Multiplies the raw value after unit conversion; 1 when not given. */
  readonly scale: number;
  /** The probe's smallest step, in the unit of its quantity (uS/cm, Cel, L …); null when unknown. */
  readonly resolution: number | null;
  /** What the probe can measure, in the unit of its quantity; null when unknown. */
  readonly range: { readonly min: number; readonly max: number } | null;
  /** True when the channel's conductivity is already compensated to 25 °C. */
  readonly at25: boolean;
  /** Compensation for conductivity channels; `linear` carries its coefficient per °C. */
  readonly compensation: Compensation;
  readonly alphaPerC: number;
  /** For a channel that reports solids: its own scale, mg/L per uS/cm at 25 °C, or "nacl". */
  readonly solidsScale: SolidsScale | null;
  /** Of a meter, where the file says so: the flow under which it sees nothing, L/min, and whether taps hang behind it. */
  readonly minFlowLPerMin?: number;
  readonly hasTaps?: boolean;
}

/** What a setting of a condition is after it was read. */
export type LimitValue = number | string | boolean;

/** One solids scale: a factor in mg/L per uS/cm at 25 °C, or the NaCl table. */
export type SolidsScale =
  | { readonly kind: "factor"; readonly mgPerLPerUsPerCm: number }
  | { readonly kind: "nacl" };

/** A point where water can be sampled or measured, with the channel of each kind that it has. */
export interface Point extends Readonly<Record<PointChannel, ChannelName | null>> {
  readonly id: string;
  readonly title: string;
  /** The point's place along the flow: ids of stages between the supply and here, in order. */
  readonly after: readonly string[];
  /**
   * Limit of `resin-breakthrough` or `membrane-passing`, reference conductivity in uS/cm; null where neither is before, and
   * where a membrane is whose limit follows its feed.
   */
  readonly limit25UsPerCm: number | null;
}

/** What a stage does to the water. */
export type StageKind = "sediment" | "carbon" | "membrane" | "resin" | "other";

/** A stage between two points. */
export interface LineStage {
  readonly id: string;
  readonly title: string;
  readonly kind: StageKind;
  readonly from: string;
  readonly to: string;
  readonly flow: ChannelName | null;
  /** Meter of the water that the stage throws away. */
  readonly waste: ChannelName | null;
  readonly arrangement: "series" | "parallel";
  /** Volume of the vessel(s), litres; the template's value is marked by `typical`. */
  readonly vesselVolumeL: number;
  readonly mediaVolumeL: number;
  /** Volume of pipe between the stage and the next probe, litres. */
  readonly pipeVolumeL: number;
  /** True when the volumes are a template's, not the keeper's. */
  readonly typical: boolean;
}

/** A float of a drum. */
export interface Float {
  /** `{drum}.{role}`: a name to tell it by, never to be taken apart. */
  readonly id: string;
  readonly role: FloatRole;
  readonly channel: ChannelName;
  /** The raw contact value (after `vb`, 0/1) that means "water is at the float"; null: not known yet, learned. */
  readonly wetWhen: boolean | null;
  readonly tripsAtL: number | null;
  readonly releasesAtL: number | null;
}

/** A drum's level, and how it is told. */
export interface DrumLevel {
  readonly channel: ChannelName;
  readonly as: "depth" | "distance" | "pressure" | "volume";
  /** Pairs of (metres, litres), ascending in metres; empty when `as` is volume. */
  readonly strapping: readonly (readonly [number, number])[];
}

/** A drum, with the channel of each kind that it has. */
export interface Drum extends Readonly<Record<DrumChannel, ChannelName | null>> {
  readonly id: string;
  readonly title: string;
  readonly volumeL: number;
  readonly fedBy: string;
  readonly control: "automatic" | "manual";
  readonly feeds: "by-hand" | "automatic";
  /** The fastest that water can come in, as the file says, L/min; null: it does not. */
  readonly greatestFlowLPerMin: number | null;
  readonly holds: "fresh" | "salt";
  readonly floats: readonly Float[];
  readonly level: DrumLevel | null;
  readonly inlet: { readonly channel: ChannelName; readonly openWhen: boolean } | null;
  /** What the keeper wants the water in it to be; each null when not said. */
  readonly target: {
    readonly conductivity25UsPerCm: number | null;
    readonly salinity: number | null;
    readonly temperatureC: number | null;
  };
}

/** A site's whole line. `channels` is derived from the rest; one entry a channel. */
export interface Line {
  readonly site: string;
  readonly title: string;
  /** IANA zone name. */
  readonly timezone: string;
  /** Local times "21:00". */
  readonly night: { readonly from: string; readonly to: string };
  readonly currency: string;
  readonly solids: SolidsScale;
  readonly disinfectant: "unknown" | "chlorine" | "chloramine" | "none";
  readonly points: readonly Point[];
  readonly stages: readonly LineStage[];
  readonly drums: readonly Drum[];
  readonly pumps: readonly {
    readonly id: string;
    readonly channel: ChannelName;
    readonly runsWhen: boolean;
  }[];
  readonly floors: readonly {
    readonly id: string;
    readonly channel: ChannelName;
    readonly wetWhen: boolean;
  }[];
  /** Rooms and cupboards whose air is measured, for frost. */
  readonly rooms: readonly { readonly id: string; readonly title: string; readonly channel: ChannelName }[];
  readonly sounders: readonly { readonly id: string; readonly channel: ChannelName }[];
  readonly buttons: readonly {
    readonly id: string;
    readonly channel: ChannelName;
    readonly pressedWhen: boolean;
    /** What a press says: somebody works there for so long, or is done. Null: nothing. */
    readonly work: {
      readonly subject: { readonly kind: "stage" | "drum"; readonly id: string };
      readonly minutes: number;
    } | null;
  }[];
  /** Systems of tanks, for hand tests. */
  readonly systems: readonly {
    readonly id: string;
    readonly title: string;
    readonly volumeL: number | null;
    readonly tanks: readonly string[];
  }[];
  /** Topics of other protocols, mapped onto channels; units as the readings room takes them. */
  readonly foreign: readonly {
    readonly topic: string;
    readonly channel: ChannelName;
    readonly pointer: string | null;
    readonly unit: string | null;
    readonly ownUnit: string | null;
    readonly scale: number;
  }[];
  /** Who is told what, and when. */
  readonly notify: Notify;
  /** Heartbeats of others that have to come. */
  readonly expects: readonly Expected[];
  readonly channels: ReadonlyMap<ChannelName, ChannelUse>;
  /** What the file sets of conditions, by condition or by `condition:subject`: see `settingsOf`. */
  readonly conditions: ReadonlyMap<string, Readonly<Record<string, LimitValue>>>;
}

/** One fault of a line file; `line` and `column` start at 1. */
export interface LineFault {
  readonly code: string;
  readonly severity: "error" | "warning";
  readonly line: number;
  readonly column: number;
  readonly path: string;
  readonly message: string;
  /** What to write instead, or what to do. */
  readonly instead: string;
}

/** What reading a line file gives: the line only when there is no error; warnings may stand beside it. */
export type LineResult =
  | { readonly ok: true; readonly line: Line; readonly faults: readonly LineFault[] }
  | { readonly ok: false; readonly faults: readonly LineFault[] };
