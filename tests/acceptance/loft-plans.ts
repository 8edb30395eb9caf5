import { expect } from "vitest";
import { type Deed, type Lived, secondsOf, type Tale, type Told, tell } from "./loft-life.ts";

const lineOf = (drums: readonly string[], stage = "kind: resin, vessel: 2 L, pipe: 0.2 L") => `drumlin: 1
site: saltmarsh-house
timezone: Europe/Berlin
points: { supply: { conductivity: wheel/ec-1, temperature: wheel/t-1 }, after: { conductivity: wheel/ec-2, temperature: wheel/t-2 } }
stages: { clean: { ${stage}, from: supply, to: after } }
drums:
${drums.map((one) => `  ${one}`).join("\n")}
`;
const wheel = "kind: resin, vessel: 2 L, pipe: 0.2 L, flow: wheel/flow-1";
const drum = (name: string, more = "", litres = 200, stop = `stop: floats/stop-${name}`) =>
  `${name}: { volume: ${litres} L, fed_by: after, ${stop}${more} }`;
const level = (name: string) => `, level: { channel: floats/level-${name}, as: volume }`;
const over = ", floats: { overflow: floats/over-butt }";
const stopAt = (up: number, down: number) =>
  `stop: { channel: floats/stop-butt, wet: true, trips_at: ${up} L, releases_at: ${down} L }`;
/** Houses by what watches them. */
export const kits = {
  wheel: lineOf([drum("butt")], wheel),
  level: lineOf([drum("butt", level("butt"))]),
  /** Where its stop float trips and releases is known. */
  levelKnown: lineOf([drum("butt", level("butt"), 200, stopAt(180, 160))]),
  both: lineOf([drum("butt", level("butt"))], wheel),
  float: lineOf([drum("butt")]),
  over: lineOf([drum("butt", over)], wheel),
  /** Where its stop float trips and releases is known. */
  overKnown: lineOf([drum("butt", over, 200, stopAt(180, 160))], wheel),
  two: lineOf([drum("a"), drum("b")], wheel),
  twoLevels: lineOf([drum("a", level("a")), drum("b", level("b"))], wheel),
  membrane: lineOf([drum("butt", "", 60)], "kind: membrane, flow: wheel/flow-1"),
  byHand: lineOf([drum("butt", `, control: manual${level("butt")}`)], wheel),
  lineOf,
  wheelStage: wheel,
};

/** When the usual begin is over: six fills of what was drawn. */
export const T = 9900;
export const take =
  (left: number, perMin = 20, name = ""): Deed[1] =>
  ({ loft, butt }) =>
    void (loft.butts[name] ?? butt).takes.push({ left, perMin });
const begin = (names: readonly string[] = ["butt"], litres = 22): Deed[] =>
  names.flatMap((name, at) => [
    [60 + at, act({ type: "release", drum: name, reason: "hand-test", value25UsPerCm: 1 })] as Deed,
    ...Array.from({ length: 6 }, (_, turn): Deed => [600 + 1500 * turn + 400 * at, take(litres, 20, name)]),
  ]);
export const act =
  (given: object): Deed[1] =>
  (life, atS) =>
    void life.answers.push(life.bench.act(given, atS));
/** An act on what stands of a condition. */
export const on =
  (type: string, condition: string, more: object = {}): Deed[1] =>
  (life, atS) => {
    const stands = life.bench.standing().find((one) => one.condition === condition);
    const { key, occurrence } = stands ?? {};
    life.answers.push(stands ? life.bench.act({ type, key, occurrence, ...more }, atS) : "nothing stands");
  };
/** In the first second in which it is so. */
export function when(fromS: number, is: (life: Lived) => boolean, does: Deed[1], forS = 7200): Deed[] {
  let isDone = false;
  return Array.from(
    { length: forS },
    (_, at): Deed => [
      fromS + at,
      (life, atS) => {
        if (isDone || !is(life)) return;
        isDone = true;
        does(life, atS);
      },
    ],
  );
}
export const fillsAt =
  (litres: number) =>
  ({ loft, butt }: Lived) =>
    loft.flow > 0 && butt.litres >= litres;
export const trips = ({ loft, butt }: Lived) => butt.isUp && loft.flow > 0;
export const hangs =
  (hung: boolean | null, name = ""): Deed[1] =>
  ({ loft, butt }) =>
    void Object.assign(loft.butts[name] ?? butt, { hung });
export const valve =
  (stuck: "open" | "shut" | null, at = 0): Deed[1] =>
  ({ loft }) =>
    void Object.assign(loft.valves[at] ?? {}, { stuck });
export const tap =
  (isShut: boolean): Deed[1] =>
  ({ loft }) =>
    void Object.assign(loft, { isShut });
export const boards =
  (state: Lived["wheel"]["state"], which: readonly ("wheel" | "floats")[] = ["wheel", "floats"]): Deed[1] =>
  (life) => {
    for (const name of which) life[name].state = state;
  };
/** Power for its board: a new boot. */
export const boots =
  (boot: number, which: readonly ("wheel" | "floats")[] = ["wheel", "floats"]): Deed[1] =>
  (life, atS) => {
    for (const name of which)
      Object.assign(life[name], { boot, bootS: atS, seq: 0, state: "sends", kept: [] });
  };
export const gatewayOff =
  (forS: number): Deed[1] =>
  (life, atS) => {
    life.bench.restart(atS + forS);
    life.offUntilS = atS + forS;
  };
/** The usual begin, then what a tale is about, seconds after it, for so many minutes. */
export const tale = (
  line: string,
  minutes: number,
  deeds: readonly Deed[],
  more: Partial<Tale> = {},
  before = begin(Object.keys(more.butts ?? { butt: {} })),
) =>
  tell({
    line,
    untilS: T + minutes * 60,
    deeds: [...before, ...deeds.map(([atS, does]): Deed => [T + atS, does])],
    ...more,
  });

const said = (told: Told) =>
  told.said.filter(({ atS }) => atS >= T).map(({ what, attention }) => `${what} ${attention}`);
export const loud = (told: Told) => said(told).filter((one) => /wake|tell/.test(one));
export const wakes = (told: Told) =>
  told.said.filter(({ atS, attention }) => atS >= T && attention === "wake");
/** The first that was told or woke of a drum or its nodes, and what lay on the floor then. */
export const firstLoud = ({ said: all }: Told, fromS = T) =>
  all.find(({ atS, attention }) => atS >= fromS && (attention === "wake" || attention === "tell"));
export function expectWokenDry(told: Told, fromS = T): void {
  const first = told.said.find(({ atS, attention }) => atS >= fromS && attention === "wake");
  expect(first?.what ?? "nobody was woken").toMatch(/^drum-/);
  expect(first?.floor).toBe(0);
}
export const fillsOf = (told: Told, name = "butt", fromS = T - 5) =>
  told.fills.filter((one) => one.drum === name && secondsOf(told, one.startedAtMs) >= fromS);
/** Litres of all fills against what truly came, percent. */
export const off = (told: Told, name = "butt") => {
  const came = told.loft.butts[name]?.came ?? Number.NaN;
  const booked = fillsOf(told, name, 0).reduce((sum, { litres }) => sum + (litres ?? 0), 0);
  return (100 * Math.abs(booked - came)) / came;
};
