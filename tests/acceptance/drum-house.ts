import { createLineBench } from "./line-bench.ts";

/**
 * So far apart are the packs of a node of which nothing else is said, s. Nodes send each 5 s by themselves: so live these
 * houses in the full form, `npm run soak -- drums`. Half as many tell the same here.
 */
const usualS = Number(process.env.DRUMLIN_PACK_S ?? 10);

/** What a drum is fitted with. */
export interface Kit {
  readonly meter?: boolean;
  readonly level?: boolean;
  readonly overflow?: boolean;
  readonly manual?: boolean;
  /** What the line says of the stop float. */
  readonly tripsAt?: number;
  readonly releasesAt?: number;
  readonly medium?: "resin" | "membrane";
  /** Of the meter: whether taps hang behind it. */
  readonly taps?: boolean;
  readonly extra?: string;
}

/** A value that may change with time, s. */
export type Over = number | ((atS: number) => number);
const at = (value: Over, atS: number) => (typeof value === "number" ? value : value(atS));

/** The house: what is true, whatever its nodes say. */
export interface House {
  readonly startL?: number;
  readonly volumeL?: number;
  readonly tripL?: number;
  readonly releaseL?: number;
  /** Flow while the valve is open, L/min, and what passes it while it is closed. */
  readonly flow?: Over;
  readonly leak?: Over;
  /** Flow of a draw, L/min. */
  readonly draw?: Over;
  /** κ25 of what comes in, uS/cm. */
  readonly kappa?: Over;
  readonly feed?: Over;
  /** The valve's float is stuck dry or wet from a time on; else it follows the water. */
  readonly valve?: (atS: number, wet: boolean) => boolean;
  /** What the float's contact says, given what it should and since when, s. */
  readonly contact?: (atS: number, wet: boolean, forS: number) => boolean;
  /** Whether the float's channel is missing from what its node says. */
  readonly contactMissing?: (atS: number) => boolean;
  readonly meterSays?: (atS: number, lPerMin: number) => number | null;
  readonly levelSays?: (atS: number, litres: number) => number | null;
  readonly kappaSays?: (atS: number, kappa25: number) => number | null;
  /** What the probe in the drum says, mS/cm at 25 °C; null: nothing. */
  readonly drumProbe?: (atS: number) => number | null;
  /** Standard deviation of a level reading, L. */
  readonly noiseL?: number;
  readonly pressS?: number;
  readonly drumsS?: number;
  readonly phaseS?: number;
  readonly silent?: (atS: number, node: "press" | "drums") => boolean;
  /** κ25 of what is in it at first, uS/cm. */
  readonly startKappa?: number;
  /** The drum fills by hand: whether the tap is open. */
  readonly tap?: (atS: number) => boolean;
  readonly seed?: number;
}

/** A line file for a kit. */
export function lineOf(kit: Kit): string {
  const float = [
    "channel: drums/stop",
    ...(kit.tripsAt ? [`trips_at: ${kit.tripsAt} L`] : []),
    ...(kit.releasesAt ? [`releases_at: ${kit.releasesAt} L`] : []),
  ];
  const parts = [
    "volume: 200 L",
    "fed_by: after-resin",
    `control: ${kit.manual ? "manual" : "automatic"}`,
    `stop: { ${float.join(", ")} }`,
    ...(kit.overflow ? ["floats: { overflow: drums/over }"] : []),
    ...(kit.level ? ["level: { channel: drums/level, as: volume }"] : []),
    ...(kit.extra ? [kit.extra] : []),
  ];
  return `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: ${kit.medium ?? "resin"}, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin${kit.meter ? `, flow: ${kit.taps === undefined ? "press/flow-1" : `{ channel: press/flow-1, taps: ${kit.taps} }`}` : ""} } }
drums:
  mix: { ${parts.join(", ")} }
`;
}

/** Two uniform numbers make a normal one (Box and Muller, Ann. Math. Stat. 29 (1958) 610). */
function createNoise(seed: number) {
  let state = seed >>> 0;
  const uniform = () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 1) / 4_294_967_297;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** What really happened. */
interface Truth {
  readonly litres: number;
  readonly inL: number;
  readonly overL: number;
  /** When water first ran over the edge, s; null: never. */
  readonly overAtS: number | null;
  /** κ25 of what is in the drum, uS/cm, ideally mixed. */
  readonly kappa25: number;
}

/** A house that can be lived through second by second, told to a bench by its two nodes. */
export function createHouse(kit: Kit, house: House, bench = createLineBench(lineOf(kit))) {
  const volumeL = house.volumeL ?? 200;
  const noise = createNoise(house.seed ?? 1);
  const truth = {
    litres: house.startL ?? 160,
    inL: 0,
    overL: 0,
    overAtS: null as number | null,
    kappa25: house.startKappa ?? 0.2,
  };
  let wet = truth.litres >= (house.tripL ?? 180);
  let nowS = 0;
  let changedS = Number.NEGATIVE_INFINITY;
  let flow = 0;
  const pressS = house.pressS ?? usualS;
  const drumsS = house.drumsS ?? usualS;
  const phaseS = house.phaseS ?? 0;

  function step(): void {
    const before = wet;
    if (truth.litres >= (house.tripL ?? 180)) wet = true;
    else if (truth.litres <= (house.releaseL ?? 160)) wet = false;
    if (wet !== before) changedS = nowS;
    const asks = kit.manual ? (house.tap?.(nowS) ?? false) : !wet;
    const isOpen = house.valve ? house.valve(nowS, wet) : asks;
    flow = isOpen ? at(house.flow ?? 4, nowS) : at(house.leak ?? 0, nowS);
    truth.inL += flow / 60;
    const inL = flow / 60;
    if (inL > 0)
      truth.kappa25 =
        (truth.kappa25 * truth.litres + at(house.kappa ?? 0.2, nowS) * inL) / (truth.litres + inL);
    truth.litres += flow / 60 - at(house.draw ?? 0, nowS) / 60;
    truth.litres = Math.max(0, truth.litres);
    if (truth.litres > volumeL) {
      truth.overL += truth.litres - volumeL;
      truth.overAtS ??= nowS;
      truth.litres = volumeL;
    }
  }

  function sayPress(): void {
    const feed = at(house.feed ?? 400, nowS);
    const kappa25 = at(house.kappa ?? 0.2, nowS);
    const kappa = house.kappaSays ? house.kappaSays(nowS, kappa25) : kappa25;
    const metered = house.meterSays ? house.meterSays(nowS, flow) : flow;
    bench.node(
      "press",
      [
        { n: "t-1", u: "Cel", v: 25 },
        { n: "t-2", u: "Cel", v: 25 },
        { n: "ec-1", u: "S/m", v: feed * 1e-4 },
        ...(kappa === null ? [] : [{ n: "ec-2", u: "S/m", v: kappa * 1e-4 }]),
        ...(kit.meter && metered !== null ? [{ n: "flow-1", u: "m3/s", v: metered / 60_000 }] : []),
      ],
      nowS,
    );
  }

  function sayDrums(): void {
    const said = truth.litres + (house.noiseL ?? 0) * noise();
    const level = house.levelSays ? house.levelSays(nowS, said) : said;
    const probe = house.drumProbe?.(nowS) ?? null;
    bench.node(
      "drums",
      [
        ...(house.contactMissing?.(nowS)
          ? []
          : [{ n: "stop", vb: house.contact ? house.contact(nowS, wet, nowS - changedS) : wet }]),
        ...(kit.overflow ? [{ n: "over", vb: truth.litres >= 0.97 * volumeL }] : []),
        ...(kit.level && level !== null ? [{ n: "level", u: "m3", v: level / 1000 }] : []),
        ...(probe === null
          ? []
          : [
              { n: "t", u: "Cel", v: 25 },
              { n: "ec", u: "S/m", v: probe / 10 },
            ]),
      ],
      nowS,
    );
  }

  return {
    bench,
    truth: truth as Truth,
    nowS: () => nowS,
    /** Lives on to a time, s. */
    live(toS: number): void {
      for (; nowS < toS; nowS += 1) {
        step();
        if (nowS % pressS === 0 && !house.silent?.(nowS, "press")) sayPress();
        if ((nowS + phaseS) % drumsS === 0 && !house.silent?.(nowS, "drums")) sayDrums();
      }
    },
  };
}
