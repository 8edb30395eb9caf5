import type { AlarmChange, Attention } from "@drumlin/gateway/alarms";
import type { DrumWater, Fill } from "@drumlin/gateway/fills";
import { beginMs, createLineBench } from "./line-bench.ts";
import { OutsideHouse, type Tub } from "./outside-house.ts";

type Records = Record<string, unknown>[];
/** A microcontroller: when it began, how often it speaks, and what becomes of its packs. */
interface Board {
  boot: number;
  sinceS: number;
  seq: number;
  everyS: number;
  isOn: boolean;
  /** Counts changes of floats and litres. */
  counts: boolean;
  /** What it says otherwise than it should; null: nothing. */
  alter: (records: Records, atS: number) => Records | null;
  /** How its packs travel. */
  carry: (records: Records, send: (records: Records) => void, atS: number) => void;
}
type Bench = ReturnType<typeof createLineBench>;
/** What a plan may lay hands on. */
export interface Life {
  readonly house: OutsideHouse;
  readonly bench: Bench;
  readonly press: Board;
  readonly tubs: Board;
  /** The only drum, or the first one. */
  readonly tub: Tub;
  /** Litres of noise of a level, standard deviation. */
  levelNoise: number;
  /** Until when the gateway is away. */
  downUntilS: number;
  readonly refused: (string | null)[];
  readonly calls: Call[];
}
type Event = readonly [atS: number, does: (life: Life, atS: number) => unknown];
export interface Plan {
  readonly line: string;
  readonly toS: number;
  readonly tubs?: Readonly<Record<string, Partial<Tub>>>;
  readonly fromS?: number;
  /** The period that the nodes keep and announce. */
  readonly everyS?: number;
  readonly events: readonly Event[];
  readonly seed?: number;
}

interface Call {
  readonly atS: number;
  readonly key: string;
  readonly attention: Attention;
  /** What the drums truly hold then, and what lies on the floor. */
  readonly holds: Readonly<Record<string, number>>;
  readonly floor: number;
}
interface Sample {
  readonly atS: number;
  readonly litres: Readonly<Record<string, number>>;
  readonly blend: Readonly<Record<string, number>>;
  readonly word: Readonly<Record<string, DrumWater["verdict"] | "none">>;
  readonly floor: number;
}

const board = (boot: number, sinceS: number, everyS: number): Board => ({
  boot,
  sinceS,
  seq: 0,
  everyS,
  isOn: true,
  counts: false,
  alter: (records) => records,
  carry: (records, send) => send(records),
});

function pressSays({ house, press }: Life): Records {
  return [
    { n: "t-1", u: "Cel", v: 25 },
    { n: "t-2", u: "Cel", v: 25 },
    { n: "ec-1", u: "S/m", v: house.feed * 1e-4 },
    { n: "ec-2", u: "S/m", v: Math.round(house.kappa * 100) * 1e-6 },
    {
      n: "flow-1",
      u: "m3/s",
      v: house.lineFlow < 0.5 ? 0 : (house.lineFlow * (1 + house.noise(0.01))) / 60_000,
    },
    ...(press.counts ? [{ n: "flow-1.total", u: "m3", v: Math.round(house.total * 100) / 1e5 }] : []),
  ];
}

function tubsSay(life: Life): Records {
  return Object.entries(life.house.tubs).flatMap(([name, tub]) => [
    { n: `stop-${name}`, vb: tub.contact(tub.isFloatWet) },
    { n: `over-${name}`, vb: tub.litres >= tub.over },
    {
      n: `level-${name}`,
      u: "m3",
      v: Math.round((tub.litres + life.house.noise(life.levelNoise)) * 10) / 10_000,
    },
    ...(life.tubs.counts ? [{ n: `stop-${name}.changes`, u: "count", v: tub.changes }] : []),
  ]);
}

const online = ({ boot, everyS }: Board) => ({
  state: "online",
  boot,
  firmware: "o",
  protocol: 1,
  period_s: everyS,
  channels: [{ name: "ec-2", unit: "S/m", resolution: 1e-6 }],
});

function speak(life: Life, name: "press" | "tubs", atS: number): boolean {
  const from = life[name];
  if (!from.isOn) return false;
  const said = from.alter(name === "press" ? pressSays(life) : tubsSay(life), atS);
  const [first, ...rest] = said ?? [];
  const labels = { boot: from.boot, seq: from.seq, up: atS - from.sinceS };
  from.seq += 1;
  if (!first) return false;
  let isHeard = false;
  from.carry(
    [{ ...labels, ...first }, ...rest],
    (records) => {
      if (atS < life.downUntilS) return;
      isHeard = true;
      life.bench.node(name, records, atS);
    },
    atS,
  );
  return isHeard;
}

/** A plan lived through the whole path: what was told, and what was true meanwhile. */
export function live(plan: Plan) {
  const fromS = plan.fromS ?? 0;
  const house = new OutsideHouse(plan.tubs ?? { tub: {} }, plan.seed);
  const bench = createLineBench(plan.line);
  const calls: Call[] = [];
  const samples: Sample[] = [];
  const words: Record<string, DrumWater["verdict"]> = {};
  const [tub] = Object.values(house.tubs);
  if (!tub) throw new Error("a house without a drum");
  const life: Life = {
    house,
    bench,
    press: board(7, fromS - 60, plan.everyS ?? 5),
    tubs: board(9, fromS - 60, plan.everyS ?? 5),
    tub,
    levelNoise: 0.15,
    downUntilS: 0,
    refused: [],
    calls,
  };
  let seen = 0;
  let heardS = fromS;
  const look = (atS: number) => {
    for (; seen < bench.outcomes.length; seen += 1) {
      const told = bench.outcomes[seen];
      if (told?.kind === "drum-water") words[told.drum] = told.verdict;
      if (told?.kind === "alarm" && told.annunciated)
        calls.push({
          atS,
          key: told.alarm.key,
          attention: told.alarm.attention,
          holds: Object.fromEntries(Object.entries(house.tubs).map(([name, { litres }]) => [name, litres])),
          floor: Object.values(house.tubs).reduce((sum, one) => sum + one.onFloor, 0),
        });
    }
  };
  bench.presence("press", online(life.press), fromS);
  bench.presence("tubs", { ...online(life.tubs), channels: [] }, fromS);
  const events = [...plan.events].sort(([a], [b]) => a - b);
  for (let atS = fromS; atS < fromS + plan.toS; atS += 1) {
    house.second();
    for (; events[0] && events[0][0] <= atS - fromS; events.shift()) events[0][1](life, atS);
    const isPress = atS % life.press.everyS === 0 && speak(life, "press", atS);
    const isTubs = (atS + 3) % life.tubs.everyS === 0 && speak(life, "tubs", atS);
    if (isPress || isTubs) heardS = atS;
    // A gateway that hears nothing looks at what is due all the same.
    else if (atS - heardS >= 5 && atS % 5 === 4 && atS >= life.downUntilS) bench.tick(atS);
    look(atS);
    if (atS % 10 === 0)
      samples.push({
        atS: atS - fromS,
        litres: each(house, (one) => one.litres),
        blend: each(house, (one) => one.dose / Math.max(one.litres, 1e-9)),
        word: each(house, (_, name) => words[name] ?? "none"),
        floor: each(house, (one) => one.onFloor).tub ?? 0,
      });
  }
  return { ...life, samples, fills: fillsOf(bench), changes: changesOf(bench), fromS };
}
export type Lived = ReturnType<typeof live>;

const each = <Value>(house: OutsideHouse, of: (tub: Tub, name: string) => Value): Record<string, Value> =>
  Object.fromEntries(Object.entries(house.tubs).map(([name, tub]) => [name, of(tub, name)]));

/** The last telling of each fill that is over and was not withdrawn. */
function fillsOf(bench: Bench): Fill[] {
  const last = new Map<string, Fill>();
  for (const told of bench.outcomes) if (told.kind === "fill") last.set(told.id, told);
  return [...last.values()].filter(({ endedAtMs, withdrawn }) => endedAtMs !== null && !withdrawn);
}

const changesOf = (bench: Bench): readonly string[] =>
  bench.outcomes.flatMap((told) =>
    told.kind === "alarm" && told.why !== "judged" && told.why !== "not-judged" ? [changeText(told)] : [],
  );
const changeText = ({ atMs, alarm, why, annunciated }: AlarmChange) =>
  `${Math.round((atMs - beginMs) / 1000)} ${alarm.key} ${why} ${alarm.attention}${annunciated ? "!" : ""}`;
