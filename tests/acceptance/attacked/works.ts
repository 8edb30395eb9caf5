// What a house of these scenarios is made of, and the line file that says so.
/** A value that may change with time, s. */
export type Over = number | ((atS: number) => number);
export const at = (value: Over | undefined, atS: number, usual: number) =>
  value === undefined ? usual : typeof value === "number" ? value : value(atS);

/** A drum, its valve, its floats and what its wires say. Litres, L/min, s. */
export interface WetDrum {
  readonly id?: string;
  readonly volumeL?: number;
  readonly tripL?: number;
  readonly releaseL?: number;
  readonly startL?: number;
  /** Drawn, or (of another water, unmetered) poured in. */
  readonly draw?: Over;
  readonly pour?: Over;
  readonly pourKappa?: number;
  /** The stop float's body: where it really hangs, given what the water would make of it. */
  readonly body?: (atS: number, wet: boolean) => boolean;
  /** Its wire, given the body. */
  readonly wire?: (atS: number, wet: boolean) => boolean | null;
  /** The valve, given what it is asked. */
  readonly valve?: (atS: number, asked: boolean) => boolean;
  /** The valve goes on for so long after it was told to close, s. */
  readonly closesInS?: number;
  /** What passes the closed valve. */
  readonly leak?: Over;
  /** The tap of a drum that is filled by hand. */
  readonly tap?: (atS: number) => boolean;
  readonly levelSays?: (atS: number, litres: number) => number | null;
  readonly overSays?: (atS: number, wet: boolean) => boolean | null;
}

type Life = "on" | "kept" | "lost";
/** A node: how often it sends, when its packs are kept or lost, and when it starts anew. */
export interface WetNode {
  readonly periodS?: number;
  readonly phaseS?: number;
  readonly life?: (atS: number) => Life;
  readonly bootsAt?: readonly number[];
  /** It sends neither labels nor counters, and no presence. */
  readonly plain?: boolean;
  /** It has a clock instead of a count of seconds, which is off by so much, s. */
  readonly clockOffS?: (atS: number) => number;
}

export interface WetHouse {
  readonly drums?: readonly WetDrum[];
  /** Flow of one open valve, L/min; two share the pipe. */
  readonly flow?: Over;
  /** Water for other taps behind the meter. */
  readonly taps?: Over;
  readonly kappa?: Over;
  readonly feed?: Over;
  readonly celsius?: Over;
  readonly meterSays?: (atS: number, lPerMin: number) => number | null;
  readonly meterStartsAt?: number;
  readonly kappaSays?: (atS: number, kappa25: number) => number | null;
  readonly celsiusSays?: (atS: number, celsius: number) => number;
  readonly noiseL?: number;
  readonly press?: WetNode;
  readonly drumsNode?: WetNode;
  /** The gateway's own clock leaps ahead at a time by so much, s. */
  readonly leap?: readonly [atS: number, byS: number];
  /** The gateway is away: [from, to). */
  readonly away?: readonly (readonly [number, number])[];
  readonly beginS?: number;
}

export interface WetKit {
  readonly meter?: boolean;
  readonly level?: boolean;
  readonly overflow?: boolean;
  readonly inlet?: boolean;
  readonly manual?: boolean;
  /** Where the stop float trips and releases is said in the line file. */
  readonly unknown?: boolean;
  readonly taps?: boolean;
  readonly minFlow?: number;
  readonly medium?: "resin" | "membrane";
  readonly salt?: boolean;
  readonly limits?: string;
}

/** The line file of a kit and its drums. */
export function wetLine(kit: WetKit, drums: readonly WetDrum[]): string {
  const settings = [
    ...(kit.taps === undefined ? [] : [`taps: ${kit.taps}`]),
    ...(kit.minFlow ? [`min_flow: ${kit.minFlow} L/min`] : []),
  ];
  const one = (drum: WetDrum) => {
    const id = drum.id ?? "mix";
    const known = kit.unknown
      ? ""
      : `, trips_at: ${drum.tripL ?? 180} L, releases_at: ${drum.releaseL ?? 160} L`;
    const parts = [
      `volume: ${drum.volumeL ?? 200} L`,
      "fed_by: after-resin",
      `control: ${kit.manual ? "manual" : "automatic"}`,
      `stop: { channel: drums/${id}-stop${known} }`,
      ...(kit.overflow ? [`floats: { overflow: drums/${id}-over }`] : []),
      ...(kit.level ? [`level: { channel: drums/${id}-level, as: volume }`] : []),
      ...(kit.inlet ? [`inlet: { channel: drums/${id}-inlet, open: true }`] : []),
      ...(kit.salt ? ["holds: salt"] : []),
    ];
    return `  ${id}: { ${parts.join(", ")} }`;
  };
  const flow = kit.meter ? `, flow: { channel: press/flow, ${["scale: 1", ...settings].join(", ")} }` : "";
  return `drumlin: 1
site: saltmarsh-house
timezone: Europe/Lisbon
points: { supply: { conductivity: press/ec-in, temperature: press/t-in }, after-resin: { conductivity: press/ec-out, temperature: press/t-out } }
stages: { resin: { kind: ${kit.medium ?? "resin"}, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin${flow} } }
drums:
${drums.map(one).join("\n")}
${kit.limits ?? ""}`;
}
