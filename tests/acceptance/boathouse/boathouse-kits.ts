import { Boathouse } from "./boathouse.ts";
import { byDepth, byDistance, byPressure, byVolume } from "./boathouse-tun.ts";

export interface Kit {
  readonly meter?: boolean;
  readonly level?: "volume" | "depth" | "distance" | "pressure";
  readonly table?: string;
  readonly hangsM?: number;
  readonly overflow?: boolean;
  readonly low?: boolean;
  readonly manual?: boolean;
  readonly salt?: boolean;
  readonly probe?: boolean;
  readonly noStop?: boolean;
  readonly ec?: string;
  readonly drum?: string;
  readonly site?: string;
  readonly startS?: number;
}

const upright = '{ "0 m": "0 L", "1 m": "200 L" }';
const below = '{ "0.2 m": "200 L", "1.2 m": "0 L" }';

/** The line file of a kit. */
const lineOf = (kit: Kit) => {
  const floats = [kit.overflow ? "overflow: quay/over" : "", kit.low ? "low: quay/low" : ""].filter(Boolean);
  const table = kit.table ?? (kit.level === "distance" ? below : upright);
  const drum = [
    "volume: 200 L",
    "fed_by: after-ions",
    `control: ${kit.manual ? "manual" : "automatic"}`,
    ...(kit.noStop ? [] : ["stop: { channel: quay/stop, trips_at: 180 L, releases_at: 160 L }"]),
    ...(floats.length > 0 ? [`floats: { ${floats.join(", ")} }`] : []),
    ...(kit.level
      ? [
          `level: { channel: quay/level, as: ${kit.level}${kit.level === "volume" ? "" : `, strapping: ${table}`} }`,
        ]
      : []),
    ...(kit.salt ? ["holds: salt, target: { salinity: 35 }"] : []),
    ...(kit.probe ? ["conductivity: quay/ec, temperature: quay/t"] : []),
    ...(kit.drum ? [kit.drum] : []),
  ].join(", ");
  return `drumlin: 1
site: saltmarsh-house
${kit.site ?? ""}
points: { main: { conductivity: wall/ec-main, temperature: wall/t-main }, coal: {}, after-ions: { conductivity: ${kit.ec ?? "wall/ec-bed"}, temperature: wall/t-bed } }
stages: { block: { kind: carbon, from: main, to: coal }, ions: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: coal, to: after-ions${kit.meter ? ", flow: wall/q" : ""} } }
drums:
  tun: { ${drum} }
`;
};
const levels = { volume: byVolume, depth: byDepth, distance: byDistance(1.2), pressure: byPressure };

export const boathouse = (kit: Kit = {}) => {
  const house = new Boathouse(lineOf(kit), kit.startS ?? 0);
  if (kit.meter) house.meter = (perMin) => perMin;
  if (kit.level) house.tun.level = levels[kit.level];
  if (kit.level === "distance" && kit.hangsM) house.tun.level = byDistance(kit.hangsM);
  if (kit.noStop) house.tun.contact = () => null;
  house.hasOver = Boolean(kit.overflow);
  house.hasLow = Boolean(kit.low);
  house.hasProbe = Boolean(kit.probe);
  return house;
};
/** "so" where a figure lies within its bounds, else the figure. */
export const so = (value: number | null | undefined, from: number, to: number) =>
  value !== null && value !== undefined && value >= from && value <= to ? "so" : (value ?? "never");

export const saltByVolume: Kit = { meter: true, level: "volume", salt: true, probe: true, manual: true };
export const saltByPressure: Kit = { ...saltByVolume, level: "pressure" };
/** Emptied to 2 L, said so, and filled by hand. */
export const fresh = (kit: Kit) => {
  const house = boathouse(kit);
  house.tun.tap = false;
  house.tun.holds(2);
  house.for(6);
  house.release("dumped");
  return house.for(54).byHand().for(300);
};
/** Salt for so much salinity goes in, and dissolves in 20 min; refused: why. */
export const salts = (house: Boathouse, salinity = 35, isSaid = true) => {
  const { tun } = house;
  const kg = (tun.waterKg * salinity) / (1000 - salinity) - tun.saltKg;
  const refused = isSaid ? house.step("salted", { kg: Math.round(kg * 100) / 100 }) : null;
  tun.grainsKg += kg;
  tun.dissolves = kg / 1200;
  return refused;
};
/** A batch of so much salinity, so long after its salt. */
export const salted = (kit: Kit, salinity = 35, forS = 600) => {
  const house = fresh(kit);
  salts(house, salinity);
  return house.for(forS);
};
/** Ready and rested. */
export const ready = (kit: Kit) => salted(kit, 35, 4500);
