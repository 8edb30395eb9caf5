import type { Buckets } from "@drumlin/gateway/contract";
import { settings } from "../data/settings.ts";
import { line } from "../data/state.ts";
import { count, w } from "../words/words.ts";
import { asSet, duration, figure, whole } from "./numbers.ts";

/**
 * Litres in a US gallon: 231 cubic inches, an inch 2.54 cm, both exact.
 * NIST SP 811 (2008), appendix B.8: gallon (U.S.) 3.785 412 E-03 m3.
 */
export const litresPerGallon = 3.785_411_784;

/** NIST SP 811 (2008), appendix B.8: t/°C = (t/°F − 32)/1.8. */
const celsiusOf = (fahrenheit: number): number => (fahrenheit - 32) / 1.8;
const fahrenheitOf = (celsius: number): number => celsius * 1.8 + 32;

/** What can be shown in more than one unit; conductivity at 25 °C only: at another temperature no scale of solids holds. */
export type Shown = "conductivity25" | "volume" | "flow" | "temperature";

/** mg/L for each uS/cm at 25 °C on the site's scale (Hem, USGS WSP 2254: 0.5 to 0.75); null where the line has none. */
const solidsFactor = (): number | null => line.value?.solids ?? null;

const isSolids = (): boolean => settings.value.conductivity === "mg/L" && solidsFactor() !== null;

/** The unit in which something is shown now. */
export function unitOf(shown: Shown): string {
  const { volume, temperature } = settings.value;
  if (shown === "conductivity25") return isSolids() ? "mg/L" : "µS/cm";
  if (shown === "volume") return volume === "gal" ? "gal" : "L";
  if (shown === "flow") return volume === "gal" ? "gal/min" : "L/min";
  return temperature === "degF" ? "°F" : "°C";
}

/** A value of the gateway (uS/cm, L, L/min, Cel) in the unit that is shown. */
export function toShown(shown: Shown, value: number): number {
  const { volume, temperature } = settings.value;
  if (shown === "conductivity25") return isSolids() ? value * (solidsFactor() ?? 1) : value;
  if (shown === "temperature") return temperature === "degF" ? fahrenheitOf(value) : value;
  return volume === "gal" ? value / litresPerGallon : value;
}

/** What somebody typed in the unit that is shown, as the gateway takes it. */
export function fromShown(shown: Shown, value: number): number {
  const { volume, temperature } = settings.value;
  if (shown === "conductivity25") return isSolids() ? value / (solidsFactor() ?? 1) : value;
  if (shown === "temperature") return temperature === "degF" ? celsiusOf(value) : value;
  return volume === "gal" ? value * litresPerGallon : value;
}

/** "8.40 µS/cm" of reference conductivity, in the unit that is shown. */
export const conductivity25 = (value: number): string =>
  `${figure(toShown("conductivity25", value))} ${unitOf("conductivity25")}`;

/** The figure of a volume without its unit: whole litres, tenths of a gallon. */
export function volumeFigure(litres: number): string {
  const value = toShown("volume", litres);
  return settings.value.volume === "gal" ? whole(value, 1) : whole(value);
}

/** "184 L". */
export const volume = (litres: number): string => `${volumeFigure(litres)} ${unitOf("volume")}`;

/** "2.59 L/min". */
export const flow = (litresPerMin: number): string =>
  `${figure(toShown("flow", litresPerMin))} ${unitOf("flow")}`;

/** "21.3 °C". */
export const temperature = (celsius: number): string =>
  `${whole(toShown("temperature", celsius), 1)} ${unitOf("temperature")}`;

/** Units of a time, in ms. */
const msOf: Readonly<Record<string, number>> = { s: 1000, min: 60_000, d: 86_400_000 };

/** A value by its UCUM unit, in the unit that is shown: "8.40 µS/cm"; what has one unit only stays. */
export function inUnit(value: number, ucum: string): string {
  if (ucum === "uS/cm") return conductivity25(value);
  if (ucum === "L") return volume(value);
  if (ucum === "L/min") return flow(value);
  if (ucum === "Cel") return temperature(value);
  if (ucum === "L/h") return `${figure(toShown("volume", value))}\u00a0${unitOf("volume")}/h`;
  if (ucum in msOf) return duration(value * (msOf[ucum] ?? 0));
  if (ucum === "/min") return `${whole(value)}\u00a0${ucum}`;
  if (ucum === "fills") return count(w.nightWords.fillsCount, Math.round(value));
  return ucum === "1" || ucum === "" ? figure(value) : `${figure(value)}\u00a0${ucum}`;
}

/** A limit beside its value, without the unit that the value has. */
export const limitFigure = (limit: number, ucum: string): string =>
  asSet(
    ucum === "uS/cm"
      ? toShown("conductivity25", limit)
      : ucum === "Cel"
        ? toShown("temperature", limit)
        : limit,
  );

const ofUcum: Readonly<Record<string, Shown>> = {
  "uS/cm": "conductivity25",
  L: "volume",
  "L/min": "flow",
  Cel: "temperature",
};

/** The unit in which a series of the gateway is shown, by its UCUM unit. */
export function shownUnit(ucum: string): string {
  const shown = Object.hasOwn(ofUcum, ucum) ? ofUcum[ucum] : undefined;
  return shown === undefined ? (ucum === "1" ? "" : ucum) : unitOf(shown);
}

/** A value of the gateway by its UCUM unit, as a number of the unit that is shown. */
export function toShownUnit(value: number, ucum: string): number {
  const shown = Object.hasOwn(ofUcum, ucum) ? ofUcum[ucum] : undefined;
  return shown === undefined ? value : toShown(shown, value);
}

/** A series in the unit that is shown. */
export function shownBuckets(buckets: Buckets, ucum: string): Buckets {
  const shown = (values: readonly (number | null)[]) =>
    values.map((value) => (value === null ? null : toShownUnit(value, ucum)));
  const { min, mean, max } = buckets;
  return { ...buckets, unit: shownUnit(ucum), min: shown(min), mean: shown(mean), max: shown(max) };
}
