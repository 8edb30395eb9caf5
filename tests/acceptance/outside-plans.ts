import { beginMs } from "./line-bench.ts";
import { type Life, type Lived, live, type Plan } from "./outside-life.ts";

type Event = Plan["events"][number];
export type Does = Event[1];

const lineOf = (drums: string, stage = "", kind = "resin, vessel: 2 L, pipe: 0.2 L") => `drumlin: 1
site: saltmarsh-house
timezone: Europe/Berlin
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: ${kind}, from: supply, to: after-resin${stage} } }
drums:
${drums}
`;
const metered = ", flow: press/flow-1";
const drum = (name: string, rest = "", litres = 200) =>
  `  ${name}: { volume: ${litres} L, fed_by: after-resin, stop: tubs/stop-${name}${rest} }`;
const levelled = (name: string) => `, level: { channel: tubs/level-${name}, as: volume }`;

/** Houses by what watches them. */
export const kits = {
  meter: lineOf(drum("tub"), metered),
  level: lineOf(drum("tub", levelled("tub"))),
  both: lineOf(drum("tub", levelled("tub")), metered),
  float: lineOf(drum("tub")),
  overflow: lineOf(drum("tub", ", floats: { overflow: tubs/over-tub }"), metered),
  twoMeter: lineOf(`${drum("a")}\n${drum("b")}`, metered),
  twoBoth: lineOf(`${drum("a", levelled("a"))}\n${drum("b", levelled("b"))}`, metered),
  membrane: lineOf(drum("tub", "", 60), metered, "membrane"),
};

/** When a plan's own begins: six fills have been seen. */
export const usualS = 2.75 * 3600;

export const at = (atS: number, does: Does): Event => [atS, does];
/** Six draws by bucket, each of them a fill; released by a hand test before. */
export const draws = (litres: number, { fromS = 600, everyS = 1500, times = 6, name = "" } = {}): Event[] =>
  Array.from({ length: times }, (_, index) => [fromS + index * everyS, drawn(litres, 22, name)]);
export const drawn =
  (litres: number, perMin = 22, name = ""): Does =>
  ({ house, tub }) => {
    (house.tubs[name] ?? tub).draws.push({ perMin, left: litres });
  };
export const released = (value25UsPerCm = 1, of = "tub"): Event => [
  60,
  act({ type: "release", drum: of, reason: "hand-test", value25UsPerCm }),
];
export const act =
  (given: object): Does =>
  (life, atS) =>
    life.refused.push(life.bench.act(given, atS));
/** Once, as soon as it is so. */
export function when(fromS: number, is: (life: Life) => boolean, does: Does): Event[] {
  let isDone = false;
  return Array.from({ length: 3600 }, (_, index) => [
    fromS + index,
    (life, atS) => {
      if (isDone || !is(life)) return;
      isDone = true;
      does(life, atS);
    },
  ]);
}
export const isFillingAt =
  (litres: number) =>
  ({ tub }: Life): boolean =>
    tub.inflow > 0 && tub.litres >= litres;
/** The gateway stops, and starts again from what it saved. */
export const restart =
  (downS: number): Does =>
  (life, atS) => {
    life.bench.restart(atS + downS);
    life.downUntilS = atS + downS;
  };
export const away: Does = ({ press, tubs }) => {
  press.carry = () => {};
  tubs.carry = () => {};
};
export const back: Does = ({ press, tubs }) => {
  press.carry = (records, send) => send(records);
  tubs.carry = press.carry;
};
export const counting = at(0, ({ press, tubs }) => {
  press.counts = true;
  tubs.counts = true;
});
/** The probe behind the resin says this, whatever comes. */
export const saysKappa =
  (kappa: number): Life["press"]["alter"] =>
  (records) =>
    records.map((one) => (one.n === "ec-2" ? { ...one, v: kappa * 1e-4 } : one));
export const says =
  (name: string, value: object, is: (atS: number) => boolean): Life["press"]["alter"] =>
  (records, atS) =>
    records.map((one) => (one.n === name && is(atS) ? { ...one, ...value } : one));
export const reset: Does = (life, atS) => {
  const stands = life.bench.standing().find(({ condition }) => condition === "drum-not-stopping");
  const given = { type: "reset", key: stands?.key, occurrence: stands?.occurrence, float: "failed" };
  life.refused.push(stands ? life.bench.act(given, atS) : "nothing stands");
};
export const epochMs = (atS: number) => beginMs + atS * 1000;

/** The usual house up to `usualS`, then what the plan is about, for so many hours. */
export const usual = (
  line: string,
  hours: number,
  events: readonly Event[],
  before: readonly Event[] = [released(), ...draws(22)],
  more: Partial<Plan> = {},
) =>
  live({
    line,
    toS: usualS + hours * 3600,
    events: [...before, ...events.map(([atS, does]) => [usualS + atS, does] as Event)],
    ...more,
  });

/** Seconds for which a word stood over water of more than so much, uS/cm. */
export const saidUseOver = ({ samples }: Lived, kappa: number, name = "tub") =>
  10 * samples.filter(({ word, blend }) => word[name] === "use" && (blend[name] ?? 0) > kappa).length;
/** Words of a drum, as they changed. */
export const words = ({ samples }: Lived, name = "tub", fromS = 0) =>
  samples
    .filter(({ atS }) => atS >= fromS)
    .map(({ word }) => word[name])
    .filter((word, index, all) => index === 0 || word !== all[index - 1]);
export const callsOf = ({ calls }: Lived) => calls.map(({ key, attention }) => `${key} ${attention}`);
/** Litres of fills that are over against what came in, percent. */
export const litresOff = ({ fills, house }: Lived, name = "tub") => {
  const told = fills
    .filter((fill) => fill.drum === name)
    .reduce((sum, { litres }) => sum + (litres ?? Number.NaN), 0);
  const truly = house.tubs[name]?.cameIn ?? Number.NaN;
  return (100 * Math.abs(told - truly)) / truly;
};
