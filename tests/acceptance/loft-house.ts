import { createLineBench } from "./line-bench.ts";

type Bench = ReturnType<typeof createLineBench>;
type Records = Record<string, unknown>[];

/** A drum of the loft, and what is in it: litres, uS/cm × L of salts, mg of chlorine. */
interface Drum {
  wetAt: number;
  dryAt: number;
  litres: number;
  salts: number;
  chlorine: number;
  isWet: boolean;
  /** L still to be taken out, at 20 L/min. */
  toDraw: number;
  /** Open by hand, shut by hand; null: by its float. */
  tap: boolean | null;
  /** Its own probe, mS/cm at 25 °C; null: none. */
  probe: number | null;
}
/** What a story may lay hands on. */
export interface Loft {
  readonly bench: Bench;
  readonly drums: Record<string, Drum>;
  nowS: number;
  /** uS/cm at 25 °C behind the column and before it; °C of the water. */
  after: (throughL: number, runL: number) => number;
  feed: number;
  waterC: number;
  /** mg/L that the carbon lets through. */
  chlorine: number;
  /** What a node says of what it should. */
  says: (records: Records) => Records;
  throughL: number;
  readonly answers: (string | null)[];
  word: Record<string, string>;
  /** Seconds of `use` over so much: of salts 11 uS/cm, of chlorine 0.1 mg/L. */
  readonly poisonedS: Record<string, number>;
  readonly calls: string[];
  readonly words: string[];
}
export type Deed = readonly [atS: number, does: (loft: Loft) => unknown];

const newDrum = (given: Partial<Drum>): Drum => ({
  ...{ wetAt: 180, dryAt: 160, litres: 181, salts: 181, chlorine: 0, isWet: true, toDraw: 0 },
  ...{ tap: null, probe: null, ...given },
});

/** κ at the water's temperature: 2 % a kelvin, as salts have it about 25 °C. */
const raw = (kappa25: number, tC: number) => kappa25 * (1 + 0.02 * (tC - 25));

/** Lives through a story second by second; nodes speak each 10 s. Counts what is dissolved: litres and floods are `loft.ts`'s. */
export function lived(
  line: string,
  toS: number,
  deeds: readonly Deed[],
  { drums = { d: {} }, set }: { drums?: Record<string, Partial<Drum>>; set?: (loft: Loft) => void } = {},
): Loft {
  const bench = createLineBench(line);
  const loft: Loft = {
    bench,
    drums: Object.fromEntries(Object.entries(drums).map(([id, given]) => [id, newDrum(given)])),
    ...{ nowS: 0, after: () => 0.3, feed: 400, waterC: 25, chlorine: 0, throughL: 0 },
    says: (records) => records,
    ...{ answers: [], word: {}, poisonedS: {}, calls: [], words: [] },
  };
  set?.(loft);
  const hello = { state: "online", boot: 5, firmware: "l", protocol: 1, period_s: 10 };
  bench.presence("pipe", { ...hello, channels: [{ name: "ec-2", unit: "S/m", resolution: 1e-6 }] }, 0);
  bench.presence("room", { ...hello, channels: [] }, 0);
  const left = [...deeds].sort(([a], [b]) => a - b);
  let [seen, runL, packs, flow, stoodS, rested, dice] = [0, 0, 0, 0, 0, 0, 11];
  for (let atS = 0; atS < toS; atS += 1) {
    loft.nowS = atS;
    for (; left[0] && left[0][0] <= atS; left.shift()) left[0][1](loft);
    flow = Object.values(loft.drums).filter((one) => one.tap ?? !one.isWet).length * 4;
    stoodS = flow > 0 ? 0 : stoodS + 1;
    if (stoodS > 0) rested = stoodS;
    if (stoodS > 300) runL = 0;
    runL += flow / 60;
    loft.throughL += flow / 60;
    dice = (dice * 16_807) % 2_147_483_647;
    // What stood in the column goes first, and no probe says the same twice.
    const first = (3 * Math.exp(-runL / 0.8) * Math.min(1, rested / 600) * dice) / 2_147_483_647;
    const kappa = loft.after(loft.throughL, runL) * (0.98 + (0.04 * dice) / 2_147_483_647) + first;
    for (const one of Object.values(loft.drums)) {
      const inL = (one.tap ?? !one.isWet) ? 4 / 60 : 0;
      const outL = Math.min(one.toDraw, 20 / 60, one.litres);
      const share = 1 - outL / one.litres;
      one.salts = one.salts * share + inL * kappa;
      one.chlorine = one.chlorine * share + inL * loft.chlorine;
      one.litres += inL - outL;
      one.toDraw -= outL;
      if (one.litres >= one.wetAt) one.isWet = true;
      if (one.litres <= one.dryAt) one.isWet = false;
    }
    const speak = (node: string, records: Records) => {
      packs += 1;
      const [first, ...rest] = loft.says(records);
      if (first) bench.node(node, [{ boot: 5, seq: packs, up: atS + 60, ...first }, ...rest], atS);
    };
    if (atS % 10 === 2)
      speak("pipe", [
        { n: "t-1", u: "Cel", v: loft.waterC },
        { n: "t-2", u: "Cel", v: loft.waterC },
        { n: "ec-1", u: "S/m", v: raw(loft.feed, loft.waterC) * 1e-4 },
        { n: "ec-2", u: "S/m", v: Math.round(raw(kappa, loft.waterC) * 100) * 1e-6 },
        { n: "flow", u: "m3/s", v: flow / 60_000 },
      ]);
    if (atS % 10 === 7)
      speak(
        "room",
        Object.entries(loft.drums).flatMap(([id, one]) => [
          { n: `stop-${id}`, vb: one.isWet },
          ...(one.probe === null
            ? []
            : [
                { n: `t-${id}`, u: "Cel", v: 25 },
                { n: `ec-${id}`, u: "S/m", v: one.probe / 10 },
              ]),
        ]),
      );
    for (; seen < bench.outcomes.length; seen += 1) {
      const told = bench.outcomes[seen];
      if (told?.kind === "drum-water" && loft.word[told.drum] !== told.verdict) {
        loft.word[told.drum] = told.verdict;
        loft.words.push(`${atS} ${told.drum} ${told.verdict} ${told.reasons.join("; ")}`);
      }
      if (told?.kind === "alarm" && told.annunciated)
        loft.calls.push(`${atS} ${told.alarm.key} ${told.alarm.attention}`);
    }
    for (const [id, { salts, chlorine, litres }] of Object.entries(loft.drums)) {
      const isBad = salts / litres > 11 || chlorine / litres > 0.1;
      loft.poisonedS[id] = (loft.poisonedS[id] ?? 0) + (isBad && loft.word[id] === "use" ? 1 : 0);
    }
  }
  return loft;
}

const lineOf = (
  drums: readonly string[],
  { column = "kind: resin, vessel: 2 L, pipe: 0.2 L, flow: pipe/flow", supply = true, after = "" } = {},
) => `drumlin: 1
site: saltmarsh-house
timezone: Europe/Berlin
points:
  supply: { ${supply ? "conductivity: pipe/ec-1, " : ""}temperature: pipe/t-1 }
  cleaned: { conductivity: pipe/ec-2, temperature: pipe/t-2${after} }
stages:
  carbon: { kind: carbon, from: supply, to: dechlorinated }
  column: { ${column}, from: dechlorinated, to: cleaned }
drums:
${drums.map((one) => `  ${one}`).join("\n")}
`;
const drum = (id: string, more = "", litres = 200) =>
  `${id}: { volume: ${litres} L, fed_by: cleaned, stop: room/stop-${id}${more} }`;
export const kits = {
  meter: lineOf([drum("d")]),
  float: lineOf([drum("d")], { column: "kind: resin, vessel: 2 L, pipe: 0.2 L", supply: false }),
  two: lineOf([drum("a"), drum("b")]),
  limit50: lineOf([drum("d", ", target: { conductivity: 10 uS/cm }")], { after: ", limit: 50 uS/cm" }),
  noProbe: lineOf([drum("d")]).replace("cleaned: { conductivity: pipe/ec-2, ", "cleaned: { "),
  membrane: lineOf([drum("d", "", 60)], { column: "kind: membrane, flow: pipe/flow" }),
  salt: lineOf([
    drum(
      "d",
      ", control: manual, holds: salt, target: { salinity: 35 }, conductivity: room/ec-d, temperature: room/t-d",
    ),
  ]),
};
/** When a story's own begins: six fills were seen, and a person has answered for what was there before. */
export const T = 9900;
const act =
  (given: object) =>
  (loft: Loft): unknown =>
    loft.answers.push(loft.bench.act(given, loft.nowS));
export const tested = (value25UsPerCm: number, id = "d") =>
  act({ type: "release", drum: id, reason: "hand-test", value25UsPerCm });
export const said = (reason: string, id = "d") => act({ type: "release", drum: id, reason });
export const undone = (id = "d") => act({ type: "release-undo", drum: id });
export const comes =
  (kappa: number) =>
  (loft: Loft): void => {
    loft.after = () => kappa;
  };
export const step = (name: string, more: object = {}) =>
  act({ type: "batch", drum: "d", step: name, ...more });
export const chlorine = (
  value: number,
  place: readonly [string, string] = ["point", "dechlorinated"],
  more: object = {},
) =>
  act({ type: "hand-test", place: { kind: place[0], id: place[1] }, what: "total-chlorine", value, ...more });
export const draw =
  (litres: number, id = "d") =>
  ({ drums }: Loft) => {
    (drums[id] as Drum).toDraw += litres;
  };
export const lines =
  (yaml: string) =>
  ({ bench, nowS }: Loft) =>
    bench.line(yaml, nowS);
export const looks =
  (into: Record<string, string | undefined>, name: string, id = "d") =>
  ({ word }: Loft) => {
    into[name] = word[id];
  };
/** Six draws of `litres` from each drum, then the story, seconds after it. */
export const story = (
  line: string,
  forS: number,
  deeds: readonly Deed[],
  { litres = 22, ...more }: Parameters<typeof lived>[3] & { litres?: number } = {},
) => {
  const ids = Object.keys(more.drums ?? { d: {} });
  const before = ids.flatMap((id, at): Deed[] => [
    [60, tested(1, id)],
    ...Array.from({ length: 6 }, (_, fill): Deed => [600 + 1500 * fill + 450 * at, draw(litres, id)]),
  ]);
  return lived(line, T + forS, [...before, ...deeds.map(([atS, does]): Deed => [T + atS, does])], more);
};
