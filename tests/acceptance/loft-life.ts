import type { Fill } from "@drumlin/gateway/fills";
import { beginMs, createLineBench } from "./line-bench.ts";
import { type Butt, Loft } from "./loft.ts";

type Pack = Record<string, unknown>[];
/** A board in the loft: its boot and clock, and what becomes of its packs. */
interface Board {
  readonly name: "wheel" | "floats";
  boot: number;
  bootS: number;
  seq: number;
  everyS: number;
  /** Sent; kept in its memory, so many of them a turn once it can send again; lost; or it has no current. */
  state: "sends" | "keeps" | "loses" | "off";
  readonly kept: Pack[];
  perTurn: number;
  readonly sent: Pack[];
  /** The time that it writes into its packs, s since 1970; null: none. */
  stamps: ((atS: number) => number) | null;
  alters: (pack: Pack, atS: number) => Pack;
  counts: boolean;
  pulsesThen: number;
}
export interface Lived {
  readonly loft: Loft;
  readonly bench: ReturnType<typeof createLineBench>;
  readonly wheel: Board;
  readonly floats: Board;
  /** The only butt, or the first. */
  readonly butt: Butt;
  noise: number;
  /** Litres by which each level reads too much. */
  zero: number;
  /** The gateway is off until then. */
  offUntilS: number;
  readonly answers: (string | null)[];
}
export type Deed = readonly [atS: number, does: (life: Lived, atS: number) => void];
export interface Tale {
  readonly line: string;
  readonly untilS: number;
  readonly deeds: readonly Deed[];
  readonly butts?: Readonly<Record<string, Partial<Butt>>>;
  /** Which butts each valve feeds; one each if not said. */
  readonly valves?: readonly (readonly string[])[];
  readonly fromS?: number;
  readonly everyS?: number;
  readonly seed?: number;
  readonly begins?: (life: Lived) => void;
}

const board = (name: Board["name"], boot: number, bootS: number, everyS: number): Board => ({
  ...{ name, boot, bootS, seq: 0, everyS, state: "sends" as const, kept: [], perTurn: 8, sent: [] },
  ...{ stamps: null, alters: (pack) => pack, counts: false, pulsesThen: 0 },
});

function ofWheel({ loft, wheel }: Lived): Pack {
  const turned = loft.pulses - wheel.pulsesThen;
  wheel.pulsesThen = loft.pulses;
  return [
    { n: "t-1", u: "Cel", v: 25 },
    { n: "t-2", u: "Cel", v: 25 },
    { n: "ec-1", u: "S/m", v: loft.feed * 1e-4 },
    { n: "ec-2", u: "S/m", v: Math.round(loft.passing * (1 + loft.noise(0.01)) * 100) * 1e-6 },
    { n: "flow-1", u: "m3/s", v: turned / 450 / wheel.everyS / 1000 },
    ...(wheel.counts ? [{ n: "flow-1.total", u: "m3", v: loft.pulses / 450_000 }] : []),
  ];
}

function ofFloats({ loft, floats, noise, zero }: Lived): Pack {
  return Object.entries(loft.butts).flatMap(([name, one]) => [
    { n: `stop-${name}`, vb: loft.contact(one) },
    { n: `over-${name}`, vb: one.overWire(one.litres >= one.overAt) },
    {
      n: `level-${name}`,
      u: "m3",
      v: Math.max(0, Math.round((one.litres + zero + loft.noise(noise)) * 10) / 10_000),
    },
    ...(floats.counts ? [{ n: `stop-${name}.changes`, u: "count", v: one.edges }] : []),
  ]);
}

/** Whether the gateway heard anything of it. */
function speak(life: Lived, own: Board, atS: number): boolean {
  const [first, ...rest] = own.alters(own.name === "wheel" ? ofWheel(life) : ofFloats(life), atS);
  if (own.state === "off" || !first) return false;
  own.seq += 1;
  const pack = [
    {
      ...{ boot: own.boot, seq: own.seq },
      ...(own.stamps ? { bt: own.stamps(atS) } : { up: atS - own.bootS }),
      ...first,
    },
    ...rest,
  ];
  if (own.state === "loses") return false;
  own.kept.push(pack);
  if (own.state === "keeps" || atS < life.offUntilS) return false;
  for (const one of own.kept.splice(0, own.perTurn)) {
    own.sent.push(one);
    if (own.sent.length > 200) own.sent.shift();
    life.bench.node(own.name, one, atS);
  }
  return true;
}

const online = ({ boot, everyS }: Board, channels: object[]) => ({
  ...{ state: "online", boot, firmware: "l", protocol: 1, period_s: everyS, channels },
});

/** Floor and butts are what they truly were as it was told. */
interface Said {
  readonly atS: number;
  readonly what: string;
  readonly attention: string;
  readonly floor: number;
}

/** A tale lived through the whole path: what was told, and what was true. */
export function tell(tale: Tale) {
  const { fromS = 0, everyS = 5, butts = { butt: {} } } = tale;
  const names = Object.keys(butts);
  const loft = new Loft(butts, tale.valves ?? names.map((name) => [name]), tale.seed ?? 5);
  const bench = createLineBench(tale.line);
  const life: Lived = {
    ...{ loft, bench, noise: 0.2, zero: 0, offUntilS: 0, answers: [] },
    wheel: board("wheel", 31, fromS - 200, everyS),
    floats: board("floats", 32, fromS - 300, everyS),
    butt: Object.values(loft.butts)[0] as Butt,
  };
  tale.begins?.(life);
  bench.presence("wheel", online(life.wheel, [{ name: "ec-2", unit: "S/m", resolution: 1e-6 }]), fromS);
  bench.presence("floats", online(life.floats, []), fromS);
  const said: Said[] = [];
  const words: { atS: number; of: string; word: string }[] = [];
  const word: Record<string, string> = {};
  const deeds = [...tale.deeds].sort(([a], [b]) => a - b);
  let [read, heardS] = [0, fromS];
  for (let atS = fromS; atS < fromS + tale.untilS; atS += 1) {
    loft.second(atS);
    for (; deeds[0] && deeds[0][0] <= atS - fromS; deeds.shift()) deeds[0][1](life, atS);
    const { wheel, floats } = life;
    const isWheel = atS % wheel.everyS === 2 % wheel.everyS && speak(life, wheel, atS);
    const isFloats = atS % floats.everyS === 4 % floats.everyS && speak(life, floats, atS);
    if (isWheel || isFloats) heardS = atS;
    else if (atS - heardS >= 6 && atS % 6 === 0 && atS >= life.offUntilS) bench.tick(atS);
    for (; read < bench.outcomes.length; read += 1) {
      const one = bench.outcomes[read];
      if (one?.kind === "drum-water" && word[one.drum] !== one.verdict) {
        word[one.drum] = one.verdict;
        words.push({ atS: atS - fromS, of: one.drum, word: one.verdict });
      }
      if (one?.kind === "alarm" && one.annunciated)
        said.push({
          ...{ atS: atS - fromS, what: one.alarm.key, attention: one.alarm.attention },
          floor: Object.values(loft.butts).reduce((sum, { floor }) => sum + floor, 0),
        });
    }
  }
  const last = new Map<string, Fill>();
  for (const one of bench.outcomes) if (one.kind === "fill") last.set(one.id, one);
  const fills = [...last.values()].filter(({ withdrawn }) => !withdrawn);
  return { ...life, said, words, word, fills, fromS };
}
export type Told = ReturnType<typeof tell>;
/** Seconds since the tale's begin. */
export const secondsOf = ({ fromS }: Told, ms: number) => Math.round((ms - beginMs) / 1000 - fromS);
