import { type AnyCondition, alarmCell, readLineFile } from "@drumlin/gateway/alarms";
import { createStages } from "@drumlin/gateway/app";
import { Composer, type PathEntry, type Records, SavedRows } from "@drumlin/gateway/path";
import fc from "fast-check";
import { nodeSays } from "../../acceptance/node-says.ts";

/** Where nothing tells of flow, water is judged by time alone. */
const line = (limit: number, tellsFlow = true) => `drumlin: 1
site: saltmarsh-house
points:
  supply: { conductivity: press/ec-5, temperature: press/t-1 }
  after-resin: { conductivity: tank/ec-8, temperature: tank/t-2, limit: ${limit} uS/cm }
  after-second: { conductivity: press/ec-3 }
stages:
  resin: { kind: resin, from: supply, to: after-resin${tellsFlow ? ", flow: tank/flow-1" : ""} }
  polish: { kind: resin, from: after-resin, to: after-second }
drums:
  mix: { volume: 200 L, fed_by: after-second, control: manual${tellsFlow ? ", stop: tank/float-1" : ""} }
rooms:
  cellar: { temperature: tank/t-9 }
`;
const noRecords: Records = { last: () => [], list: () => [] };
const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);

/** What channels say: calm first, then near a limit, past it, far past it, a fault, nothing at all. */
const said = {
  "t-1": ["Cel", [18, 18.1, 4.9, 2, -3, 85, null]],
  "ec-5": ["S/m", [0.0412, 0.04, 0.034, 0.004, 0.0001, 0, 9, null, null, 0.00002]],
  "t-2": ["Cel", [18.2, 18.3, 34.2, 3, -127, null]],
  "ec-8": ["S/m", [0.00004, 0.00005, 0.0003, 0.0004, 0.0006, 0.00288, 0.053, 0, null, 0.00002]],
  "ec-3": ["S/m", [0.00003, 0.000031, 0.00039, 0.002, 0.05, 0, null, 0.02]],
  "flow-1": ["m3/s", [0, 3e-5, null]],
  "t-9": ["Cel", [15, 15.2, 4.95, 5.1, 1, null]],
  "float-1": ["/", [0, 1, null]],
} as const satisfies Record<string, readonly [unit: string, values: readonly (number | null)[]]>;
type Channel = keyof typeof said;
const channelsOf: Readonly<Record<string, readonly Channel[]>> = {
  press: ["t-1", "ec-3", "ec-5"],
  tank: ["ec-8", "flow-1", "t-2", "t-9", "float-1"],
};
const standing = ["probe-implausible:tank/ec-8", "frost:after-resin", "resin-breakthrough:after-resin"];

/** Packs of one node that say about the same, some time apart; `unusual` picks what is not calm. */
const packs = fc.record({
  do: fc.constant("packs" as const),
  node: fc.constantFrom("press", "tank"),
  times: fc.integer({ min: 1, max: 40 }),
  apartMs: fc.constantFrom(200, 5000, 5000, 30_000, 200_000, 650_000),
  lagMs: fc.constantFrom(0, 0, 0, 0, 0, 90, 70_000, 400_000, -4000, -60_000),
  unusual: fc.array(fc.tuple(fc.nat(5), fc.nat(9)), { maxLength: 2 }),
  noise: fc.constantFrom(0, 0.02, 0.2),
  /** What is not calm of the other node, which sends at the same time; null where it is silent. */
  beside: fc.option(fc.array(fc.tuple(fc.nat(5), fc.nat(9)), { maxLength: 2 })),
});
const other = fc.oneof(
  fc.record({ do: fc.constant("wait" as const), ms: fc.constantFrom(1000, 65_000, 700_000, 5_000_000) }),
  fc.record({ do: fc.constant("save" as const), isRestart: fc.boolean() }),
  fc.record({
    do: fc.constant("presence" as const),
    node: fc.constantFrom("press", "tank"),
    periodS: fc.constantFrom(5, 400),
    resolution: fc.constantFrom(0.001, 0.00001),
  }),
  fc.record({
    do: fc.constant("line" as const),
    limit: fc.constantFrom(4, 5, 0.3),
    tellsFlow: fc.constantFrom(true, true, false),
  }),
  fc.record({
    do: fc.constant("act" as const),
    type: fc.constantFrom("shelve", "out-of-service", "reset", "acknowledge", "medium-change", "work-on"),
    key: fc.constantFrom(...standing),
  }),
);
/** Anything that may happen to a line: packs, silences, restarts, acts, another line. */
export const life = fc.array(
  fc.oneof({ weight: 5, arbitrary: packs }, { weight: 1, arbitrary: packs }, { weight: 2, arbitrary: other }),
  { minLength: 1, maxLength: 30 },
);
/** One of them. */
export type Event = typeof life extends fc.Arbitrary<(infer One)[]> ? One : never;

/** What a path with these conditions tells and keeps in a life. */
export class Lived {
  readonly all: string[] = [];
  private readonly rows: readonly AnyCondition[];
  private readonly saved = new SavedRows();
  private composer: Composer;
  private seq = 0;
  private atMs = beginMs;
  private readonly counts: Record<string, number> = { press: 0, tank: 0 };

  constructor(rows: readonly AnyCondition[]) {
    this.rows = rows;
    this.composer = this.made();
    this.push({ kind: "start" });
    this.push({ kind: "line", yaml: line(4) });
  }

  private made(): Composer {
    return new Composer({
      stages: createStages(this.rows),
      readLine(yaml) {
        const read = readLineFile(yaml);
        if (!read.ok) throw new Error("the test's line is no line");
        return read.line;
      },
    });
  }

  private push(entry: object): void {
    this.seq += 1;
    this.composer.push({ seq: this.seq, receivedAt: this.atMs, ...entry } as PathEntry, (event) => {
      this.all.push(JSON.stringify(event));
    });
  }

  live(event: Event): void {
    if (event.do === "packs") for (let time = 0; time < event.times; time += 1) this.pack(event, time);
    else if (event.do === "wait") {
      this.atMs += event.ms;
      this.push({ kind: "tick" });
    } else if (event.do === "line") this.push({ kind: "line", yaml: line(event.limit, event.tellsFlow) });
    else if (event.do === "presence") this.presence(event);
    else if (event.do === "save") this.save(event.isRestart);
    else this.act(event);
  }

  private pack(event: Extract<Event, { do: "packs" }>, time: number): void {
    this.atMs += event.apartMs;
    const { node, beside } = event;
    this.says(event, time);
    if (beside) this.says({ ...event, node: node === "press" ? "tank" : "press", unusual: beside }, time);
  }

  private says({ node, lagMs, unusual, noise }: Extract<Event, { do: "packs" }>, time: number): void {
    const seq = (this.counts[node] ?? 0) + 1;
    this.counts[node] = seq;
    const records = (channelsOf[node] as readonly Channel[]).flatMap((channel, at) => {
      const [unit, values] = said[channel];
      const kind = unusual.find(([place]) => place === at)?.[1] ?? time % 2;
      const value = values[kind % values.length] ?? null;
      if (value === null) return [];
      const isSmooth = unit !== "/" && channel !== "flow-1";
      const v = isSmooth ? value * (1 + (noise * ((seq * 7919) % 101)) / 101) : value;
      return [
        {
          n: channel,
          u: kind === 8 ? "K" : unit,
          v: kind < 2 && !isSmooth ? 0 : v,
          t: (this.atMs - lagMs) / 1000,
        },
      ];
    });
    if (records.length === 0) return;
    const [first, ...rest] = records;
    this.push(nodeSays(node, "readings", [{ boot: 1, seq, ...first }, ...rest]));
  }

  private presence({ node, periodS, resolution }: Extract<Event, { do: "presence" }>): void {
    const channels = ["ec-8", "ec-3"].map((name) => ({ name, unit: "S/m", resolution }));
    const said = { state: "online", boot: 1, firmware: "1", protocol: 1, period_s: periodS, channels };
    this.push(nodeSays(node, "presence", said));
  }

  private act({ type, key }: Extract<Event, { do: "act" }>): void {
    const occurrence = this.composer.board.get(alarmCell, key)?.occurrence;
    const about =
      type === "medium-change" || type === "work-on"
        ? { stage: "resin", subject: { kind: "stage", id: "resin" }, untilMs: this.atMs + 900_000 }
        : { key, occurrence: occurrence ?? "", untilMs: this.atMs + 600_000 };
    this.push({ kind: "act", act: { id: `act-${this.seq}`, by: "keeper", type, ...about } });
  }

  /** What a checkpoint would hold, all of it that changed; the path may go on from it. */
  save(isRestart: boolean): void {
    const changes = structuredClone(this.composer.changes());
    const rows = changes.rows.map(({ stage, key, plain }) => JSON.stringify([stage, key, plain]));
    this.all.push(...rows.sort());
    this.saved.apply(changes);
    if (!isRestart) return;
    this.composer = this.made();
    this.composer.restore(this.saved, noRecords);
    this.push({ kind: "start" });
  }
}

/** What a path with these conditions tells and keeps in a life. */
export function lived(events: readonly Event[], rows: readonly AnyCondition[]): readonly string[] {
  const one = new Lived(rows);
  for (const [index, event] of events.entries()) {
    one.live(event);
    // A new line and acts come upon what nobody has looked at since.
    const next = events[index + 1]?.do;
    if (next !== "line" && next !== "act") one.save(false);
  }
  return one.all;
}

type Packs = Extract<Event, { do: "packs" }>;
/** Packs in which nothing happens. */
export const calm = (node: Packs["node"], more: Partial<Packs> = {}): Event => ({
  do: "packs",
  node,
  times: 60,
  apartMs: 5000,
  lagMs: 0,
  unusual: [],
  noise: 0,
  beside: null,
  ...more,
});
/** Of the tank's node: water runs. */
export const runs: [number, number] = [1, 4];
/** The same of the tank's node while water runs. */
export const flowing = (more: Partial<Packs> = {}) => calm("tank", { unusual: [runs], ...more });
/** A node that says how often it sends, and how fine it reads. */
export const online = { do: "presence", periodS: 5, resolution: 0.00001 } as const;
/** From now on nothing tells of flow. */
export const unmetered = { do: "line", limit: 4, tellsFlow: false } as const;
