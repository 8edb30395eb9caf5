import type { Fill } from "@drumlin/gateway/fills";
import { Cellar, type Vat } from "./cellar.ts";
import { beginMs, createLineBench } from "./line-bench.ts";

type Records = Record<string, unknown>[];
type Bench = ReturnType<typeof createLineBench>;
/** A node: its boot, its clock's begin, and what becomes of what it says. */
interface Node {
  boot: number;
  beganS: number;
  packs: number;
  /** Sent, kept for later, or lost. */
  way: "sent" | "kept" | "lost";
  readonly kept: Records[];
  counts: boolean;
  turns: (records: Records, atS: number) => Records;
}
export interface World {
  readonly cellar: Cellar;
  readonly bench: Bench;
  readonly meter: Node;
  readonly floats: Node;
  readonly vat: Vat;
  /** The gateway hears nothing until then. */
  deafUntilS: number;
  readonly refused: (string | null)[];
}
export type Deed = readonly [atS: number, does: (world: World, atS: number) => void];
interface Told {
  readonly atS: number;
  readonly what: string;
  readonly attention: string;
  readonly spilt: number;
}

const node = (boot: number): Node => ({
  ...{ boot, beganS: -120, packs: 0, way: "sent" as const, kept: [], counts: false },
  turns: (records) => records,
});

export interface Script {
  readonly line: string;
  readonly untilS: number;
  readonly deeds: readonly Deed[];
  readonly vats?: Readonly<Record<string, Partial<Vat>>>;
  readonly fromS?: number;
  readonly seed?: number;
  /** What the cellar is otherwise. */
  readonly set?: (cellar: Cellar) => void;
}

function said(world: World, name: "meter" | "floats", sinceLitres: number): Records {
  const { cellar, meter, floats } = world;
  if (name === "meter")
    return [
      { n: "t-1", u: "Cel", v: 25 },
      { n: "t-2", u: "Cel", v: 25 },
      { n: "ec-1", u: "S/m", v: cellar.before * 1e-4 },
      { n: "ec-2", u: "S/m", v: Math.round(cellar.kappa * 100) * 1e-6 },
      // 450 pulses a litre, counted over 5 s.
      { n: "flow-1", u: "m3/s", v: Math.round(sinceLitres * 450) / 450 / 5 / 1000 },
      ...(meter.counts
        ? [{ n: "flow-1.total", u: "m3", v: Math.round(cellar.counted * 450) / 450_000 }]
        : []),
    ];
  return Object.entries(cellar.vats).flatMap(([own, one]) => [
    { n: `stop-${own}`, vb: one.contact ?? one.wet },
    { n: `over-${own}`, vb: one.litres >= one.overAt },
    { n: `level-${own}`, u: "m3", v: Math.round((one.litres + cellar.jitter(0.2)) * 10) / 10_000 },
    ...(floats.counts ? [{ n: `stop-${own}.changes`, u: "count", v: one.edges }] : []),
  ]);
}

function speak(world: World, name: "meter" | "floats", atS: number, sinceLitres: number): boolean {
  const from = world[name];
  const [first, ...rest] = from.turns(said(world, name, sinceLitres), atS);
  if (!first) return false;
  from.packs += 1;
  const records = [{ boot: from.boot, seq: from.packs, up: atS - from.beganS, ...first }, ...rest];
  if (from.way === "kept") from.kept.push(records);
  if (from.way !== "sent" || atS < world.deafUntilS) return false;
  // What was kept goes out first, eight a turn.
  const due = from.kept.splice(0, 8);
  if (due.length > 0) from.kept.push(records);
  for (const one of due.length > 0 ? due : [records]) world.bench.node(name, one, atS);
  return true;
}

/** A script lived through the whole path: what was told, and what was true. */
export function act({ line, untilS, deeds, vats = { vat: {} }, fromS = 0, seed = 11, set }: Script) {
  const cellar = new Cellar(vats, seed);
  set?.(cellar);
  const bench = createLineBench(line);
  const world: World = {
    ...{ cellar, bench, meter: node(3), floats: node(4), deafUntilS: 0, refused: [] },
    vat: Object.values(cellar.vats)[0] as Vat,
  };
  const told: Told[] = [];
  const words: { atS: number; drum: string; word: string }[] = [];
  /** Seconds for which a drum's word was `use` over more than so much. */
  const useOver: Record<string, Record<number, number>> = {};
  const now: Record<string, string> = {};
  const hello = (channels: object[]) => ({
    ...{ state: "online", boot: 3, firmware: "c", protocol: 1, period_s: 5, channels },
  });
  bench.presence("meter", hello([{ name: "ec-2", unit: "S/m", resolution: 1e-6 }]), fromS);
  bench.presence("floats", { ...hello([]), boot: 4 }, fromS);
  const left = [...deeds].sort(([a], [b]) => a - b);
  let [seen, heardS, countedAt] = [0, fromS, 0];
  for (let atS = fromS; atS < fromS + untilS; atS += 1) {
    cellar.second();
    for (; left[0] && left[0][0] <= atS - fromS; left.shift()) left[0][1](world, atS);
    let isHeard = false;
    if (atS % 5 === 1) {
      isHeard = speak(world, "meter", atS, cellar.counted - countedAt);
      countedAt = cellar.counted;
    }
    if (atS % 5 === 3) isHeard = speak(world, "floats", atS, 0);
    if (isHeard) heardS = atS;
    else if (atS - heardS >= 6 && atS % 6 === 0 && atS >= world.deafUntilS) bench.tick(atS);
    for (; seen < bench.outcomes.length; seen += 1) {
      const one = bench.outcomes[seen];
      if (one?.kind === "drum-water" && now[one.drum] !== one.verdict) {
        now[one.drum] = one.verdict;
        words.push({ atS: atS - fromS, drum: one.drum, word: one.verdict });
      }
      if (one?.kind === "alarm" && one.annunciated)
        told.push({
          ...{ atS: atS - fromS, what: one.alarm.key, attention: one.alarm.attention },
          spilt: Object.values(cellar.vats).reduce((sum, { spilt }) => sum + spilt, 0),
        });
    }
    for (const [name, { salts, litres }] of Object.entries(cellar.vats))
      for (const limit of [10, 13]) {
        useOver[name] ??= {};
        const of = useOver[name] as Record<number, number>;
        of[limit] = (of[limit] ?? 0) + (now[name] === "use" && salts / litres > limit ? 1 : 0);
      }
  }
  const last = new Map<string, Fill>();
  for (const one of bench.outcomes) if (one.kind === "fill") last.set(one.id, one);
  const fills = [...last.values()].filter(({ withdrawn }) => !withdrawn);
  return { ...world, told, words, now, useOver, fills, fromS };
}
export type Acted = ReturnType<typeof act>;

/** Seconds since the script's begin. */
export const secondsOf = ({ fromS }: Acted, ms: number | null) =>
  ms === null ? null : Math.round((ms - beginMs) / 1000 - fromS);
