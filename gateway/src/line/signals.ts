import { type Dimension, fromDimensionUnit, unitOf } from "../quantities/index.ts";

/**
 * UCUM unit of each quantity that is measured; `state` is 0 or 1 (1 = wet, open, running).
 * Salinity is practical salinity (PSS-78), which has no unit.
 */
export const quantityUnits = {
  conductivity: "uS/cm",
  conductivity25: "uS/cm",
  salinity: "1",
  temperature: "Cel",
  pressure: "bar",
  level: "m",
  volume: "L",
  flow: "L/min",
  state: "1",
} as const satisfies Readonly<Record<string, string>>;

/** What a measurement is of. Its unit is fixed: see `quantityUnits`. */
export type MeasuredQuantity = keyof typeof quantityUnits;

/** A unit on the wire, and the way from it to the signal's own: `value × times ÷ per + plus`. */
interface WireUnit {
  /** SenML primary unit (RFC 8428, section 12.1). */
  readonly senml: string;
  readonly times?: number;
  readonly per?: number;
  readonly plus?: number;
}

/** A kind of channel: everything that the program knows of it. */
export interface SignalKind {
  /** Its own unit (UCUM), in which a value without a unit is taken; null: it has none, and any is taken. */
  readonly unit: string | null;
  /** In which dimension its resolution is written; null: it has no resolution. */
  readonly dimension: Dimension | null;
  readonly wire: readonly WireUnit[];
  /** The only values there are; left out where every number is one. */
  readonly values?: readonly number[];
  /** What it can be at all, in its own unit; beyond lies a fault of the probe. */
  readonly range: { readonly min: number; readonly max: number; readonly source: string };
  /** What each of its readings becomes; the first one has the value in the signal's own unit. */
  readonly gives: readonly [MeasuredQuantity, ...MeasuredQuantity[]];
  /** What some readings become besides: where the water is salt, or a drum's table turns heights into litres. */
  readonly mayGive: readonly MeasuredQuantity[];
  /** What one point of a calibration is: a factor (of a cell constant), an offset, or nothing that can be. */
  readonly onePoint: "factor" | "offset" | "none";
}

const widerThanAnyProbe = "wider than any probe of such a line (common practice, no source)";
const range = (min: number, max: number) => ({ min, max, source: widerThanAnyProbe });

/**
 * Every kind of channel. A new one is a row here (and its quantity above, where that is new), a key in
 * `pointChannels` or `drumChannels` of the schema, and a test.
 */
export const signals = {
  conductivity: {
    unit: "uS/cm",
    dimension: "conductivity",
    wire: [{ senml: "S/m", times: 10_000 }],
    range: range(0, 200_000),
    gives: ["conductivity", "conductivity25"],
    mayGive: ["salinity"],
    onePoint: "factor",
  },
  /** A pen that says solids: turned back into reference conductivity by its scale. */
  solids: {
    unit: "mg/L",
    dimension: "concentration",
    wire: [{ senml: "kg/m3", times: 1000 }],
    range: range(0, 200_000),
    gives: ["conductivity25"],
    mayGive: [],
    onePoint: "factor",
  },
  temperature: {
    unit: "Cel",
    dimension: "temperature",
    wire: [{ senml: "Cel" }, { senml: "K", plus: -273.15 }],
    range: range(-20, 80),
    gives: ["temperature"],
    mayGive: [],
    onePoint: "offset",
  },
  pressure: {
    unit: "bar",
    dimension: "pressure",
    wire: [{ senml: "Pa", per: 100_000 }],
    range: range(-1, 100),
    gives: ["pressure"],
    mayGive: ["volume"],
    onePoint: "offset",
  },
  level: {
    unit: "m",
    dimension: "length",
    wire: [{ senml: "m" }],
    range: range(-0.5, 20),
    gives: ["level"],
    mayGive: ["volume"],
    onePoint: "offset",
  },
  /** From a sensor above the water down to it. */
  distance: {
    unit: "m",
    dimension: "length",
    wire: [{ senml: "m" }],
    range: range(0, 20),
    gives: ["level"],
    mayGive: ["volume"],
    onePoint: "offset",
  },
  volume: {
    unit: "L",
    dimension: "volume",
    wire: [{ senml: "m3", times: 1000 }],
    range: range(-50, 1e6),
    gives: ["volume"],
    mayGive: [],
    onePoint: "offset",
  },
  flow: {
    unit: "L/min",
    dimension: "flow",
    wire: [{ senml: "m3/s", times: 60_000 }],
    range: range(-1000, 10_000),
    gives: ["flow"],
    mayGive: [],
    onePoint: "offset",
  },
  contact: {
    unit: null,
    dimension: null,
    wire: [],
    values: [0, 1],
    range: { min: 0, max: 1, source: "by definition" },
    gives: ["state"],
    mayGive: [],
    onePoint: "none",
  },
  /** A contact in a supervised loop: its current, in the wire's own amperes, tells open, closed, broken and shorted. */
  loop: {
    unit: null,
    dimension: null,
    wire: [],
    range: { min: 0, max: 0.1, source: "a loop of EN 60947-5-6 carries some mA" },
    gives: ["state"],
    mayGive: [],
    onePoint: "none",
  },
} as const satisfies Readonly<Record<string, SignalKind>>;

/** What a channel says, before it is known what that means. */
export type Signal = keyof typeof signals;

/** A row of the table by its name. */
export const kindOf = (signal: Signal): SignalKind => signals[signal];

/** What turns a value into its signal's own unit, all written alike: it is asked for at each reading. */
interface OwnUnit {
  readonly isAny: boolean;
  readonly values: readonly number[] | null;
  readonly wire: readonly Required<WireUnit>[];
}

const ownUnits = Object.fromEntries(
  Object.entries(signals as Readonly<Record<string, SignalKind>>).map(([signal, { unit, values, wire }]) => [
    signal,
    {
      isAny: unit === null,
      values: values ?? null,
      wire: wire.map(({ senml, times = 1, per = 1, plus = 0 }) => ({ senml, times, per, plus })),
    },
  ]),
) as unknown as Readonly<Record<Signal, OwnUnit>>;

/** A value as it came, in the signal's own unit; null when its unit, or the value of a contact, can't be. */
export function inOwnUnit(signal: Signal, value: number, senml: string | null): number | null {
  const { isAny, wire, values } = ownUnits[signal];
  if (values !== null && !values.includes(value)) return null;
  if (isAny || senml === null) return value;
  for (let index = 0; index < wire.length; index += 1) {
    const known = wire[index] as Required<WireUnit>;
    if (known.senml === senml) return (value * known.times) / known.per + known.plus;
  }
  return null;
}

/** What a supervised contact's loop says. */
export type LoopState = "open" | "closed" | "broken" | "shorted" | "between";

/**
 * The state of a supervised loop by its current, A: EN 60947-5-6 (1999): off under 1.2 mA, on over 2.1 mA, wire broken
 * from 0.05 to 0.35 mA down, shorted above 6 mA. What lies between off and on is neither.
 */
export function loopState(amperes: number): LoopState {
  const milliamperes = amperes * 1000;
  if (milliamperes <= 0.35) return "broken";
  if (milliamperes < 1.2) return "open";
  if (milliamperes <= 2.1) return "between";
  return milliamperes > 6 ? "shorted" : "closed";
}

/** Whether a contact is closed, by its reading in the signal's own unit; null where it can't be told. */
export function isClosed(signal: Signal, value: number): boolean | null {
  if (signal !== "loop") return value === 1 ? true : value === 0 ? false : null;
  const state = loopState(value);
  return state === "closed" ? true : state === "open" ? false : null;
}

/** A value in the unit of the signal's dimension, in the signal's own: 10 kPa of a pressure are 0.1 bar. */
export function ofDimension(signal: Signal, value: number): number {
  const { unit, dimension } = kindOf(signal);
  const own = unit === null || dimension === null ? undefined : unitOf(unit, dimension);
  return own ? fromDimensionUnit(value, own) : value;
}
