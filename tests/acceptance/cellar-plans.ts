import { expect } from "vitest";
import type { Vat } from "./cellar.ts";
import { type Acted, act, type Deed, type Script, secondsOf, type World } from "./cellar-life.ts";

const lineOf = (drums: readonly string[], resin = "kind: resin, vessel: 2 L, pipe: 0.2 L") => `drumlin: 1
site: saltmarsh-house
timezone: Europe/Berlin
points: { supply: { conductivity: meter/ec-1, temperature: meter/t-1 }, after: { conductivity: meter/ec-2, temperature: meter/t-2 } }
stages: { clean: { ${resin}, from: supply, to: after } }
drums:
${drums.map((one) => `  ${one}`).join("\n")}
`;
const counted = "kind: resin, vessel: 2 L, pipe: 0.2 L, flow: meter/flow-1";
const drum = (name: string, more = "", litres = 200) =>
  `${name}: { volume: ${litres} L, fed_by: after, stop: floats/stop-${name}${more} }`;
const level = (name: string) => `, level: { channel: floats/level-${name}, as: volume }`;
export const kits = {
  meter: lineOf([drum("vat")], counted),
  level: lineOf([drum("vat", level("vat"))]),
  both: lineOf([drum("vat", level("vat"))], counted),
  float: lineOf([drum("vat")]),
  overflow: lineOf([drum("vat", ", floats: { overflow: floats/over-vat }")], counted),
  two: lineOf([drum("a"), drum("b")], counted),
  three: lineOf(
    ["a", "b", "c"].map((name) => drum(name, level(name))),
    counted,
  ),
  membrane: lineOf([drum("vat", "", 60)], "kind: membrane, flow: meter/flow-1"),
};

export const bucket =
  (litres: number, perMin = 20, name = ""): Deed[1] =>
  ({ cellar, vat }) =>
    void (cellar.vats[name] ?? vat).out.push({ litres, perMin });
export const T = 9900;
export const began = (names: readonly string[] = [""], litres = 22): Deed[] =>
  names.flatMap((name, at) => [
    [
      90 + at,
      ({ bench }: World, atS: number) =>
        void bench.act({ type: "release", drum: name || "vat", reason: "hand-test", value25UsPerCm: 1 }, atS),
    ] as Deed,
    ...Array.from({ length: 6 }, (_, fill): Deed => [700 + 1500 * fill + 400 * at, bucket(litres, 20, name)]),
  ]);
/** The usual begin, then what a story is about, seconds after it, for so many minutes. */
export const story = (
  kit: string,
  minutes: number,
  deeds: readonly Deed[],
  more: Partial<Script> = {},
  before = began(),
) =>
  act({
    line: kit,
    untilS: T + minutes * 60,
    deeds: [...before, ...deeds.map(([atS, does]): Deed => [T + atS, does])],
    ...more,
  });
/** Once, in the first second in which it is so. */
export function once(fromS: number, is: (world: World) => boolean, does: Deed[1], forS = 7200): Deed[] {
  let isDone = false;
  return Array.from(
    { length: forS },
    (_, at): Deed => [
      fromS + at,
      (world, atS) => {
        if (isDone || !is(world)) return;
        isDone = true;
        does(world, atS);
      },
    ],
  );
}
export const fillsTo =
  (litres: number) =>
  ({ vat, cellar }: World) =>
    cellar.flow > 0 && vat.litres >= litres && vat.litres < 179;
export const tripped = ({ vat }: World) => vat.wet && vat.valve > 0;
export const be =
  (given: Partial<Vat>, name = ""): Deed[1] =>
  ({ cellar, vat }) =>
    void Object.assign(cellar.vats[name] ?? vat, given);
export const behind =
  (kappa: number): Deed[1] =>
  ({ cellar }) =>
    void Object.assign(cellar, { behind: kappa });
export const both =
  (way: World["meter"]["way"]): Deed[1] =>
  ({ meter, floats }) => {
    meter.way = way;
    floats.way = way;
  };
export const counting: Deed = [
  0,
  ({ meter, floats }) => {
    meter.counts = true;
    floats.counts = true;
  },
];
export const restart =
  (downS: number): Deed[1] =>
  (world, atS) => {
    world.bench.restart(atS + downS);
    world.deafUntilS = atS + downS;
  };
export const told = (acted: Acted, what: string, attention?: string) =>
  acted.told.filter(
    (one) =>
      one.atS >= T && one.what.startsWith(what) && (attention === undefined || one.attention === attention),
  );
export const calls = (acted: Acted) =>
  acted.told.filter(({ atS }) => atS >= T).map((one) => `${one.what} ${one.attention}`);
export const wakes = (acted: Acted) => calls(acted).filter((one) => one.endsWith("wake"));
export const last = (acted: Acted, name = "vat") => acted.now[name];
export const fillsOf = (acted: Acted, name = "vat", fromS = T - 5) =>
  acted.fills.filter((one) => one.drum === name && (secondsOf(acted, one.startedAtMs) as number) >= fromS);
const litres = (acted: Acted, name = "vat") =>
  fillsOf(acted, name, 0).reduce((sum, one) => sum + (one.litres ?? 0), 0);
export const off = (acted: Acted, name = "vat") => {
  const came = acted.cellar.vats[name]?.came ?? 0;
  return (100 * Math.abs(litres(acted, name) - came)) / came;
};
export const at = (acted: Acted, what: string) =>
  acted.told.find((one) => one.atS >= T && one.what.startsWith(what))?.atS ?? Number.NaN;
/** Wakes before anything lies on the floor. */
export function expectWokenDry(acted: Acted): void {
  const first = acted.told.find((one) => one.atS >= T && one.attention === "wake");
  expect(first?.what).toMatch(/^drum-/);
  expect(first?.spilt).toBe(0);
}

export const slow: Partial<Script> = {
  vats: { vat: { edge: 60, wetAt: 54, dryAt: 48, overAt: 58, litres: 54, salts: 54 } },
  set: (cellar) => void Object.assign(cellar, { perMin: 0.5, behind: 12 }),
};
