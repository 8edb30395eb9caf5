import type { AlarmView, DrumView } from "@drumlin/gateway/contract";
import { toDoIn } from "@drumlin/gateway/words";
import { type Fixture, quantity, standingAlarm } from "../fixture-server.ts";
import { answers } from "./answers.ts";
import { drums, nodes, points, series, stages } from "./line.ts";

const minuteMs = 60_000;
const ago = (minutes: number) => new Date(Date.now() - minutes * minuteMs).toISOString();

/** What the gateway says is to be done, as it says it to a page. */
const saysWhatToDo = (alarm: AlarmView): AlarmView => ({
  ...alarm,
  response: toDoIn("en", {
    condition: alarm.condition,
    isOver: alarm.clearedAt !== null,
    told: alarm.response,
  }),
});

const alarm = (
  key: string,
  attention: AlarmView["attention"],
  state: AlarmView["state"],
  change: Partial<AlarmView> = {},
): AlarmView =>
  saysWhatToDo({
    ...standingAlarm(state, Date.now() - 40 * minuteMs),
    key,
    occurrence: key,
    condition: key.split(":")[0] ?? "",
    subject: key.split(":")[1] ?? "",
    attention,
    value: null,
    limit: null,
    ...change,
  });

const held = (drum: DrumView, litres: number): DrumView => ({
  ...drum,
  volume: { ...drum.volume, value: litres },
  water: {
    ...drum.water,
    verdict: "hold",
    since: ago(500),
    reasons: ["water over the limit of 5 µS/cm came in (After resin)", "12 % of it came in unwatched"],
  },
});

const trouble: readonly AlarmView[] = [
  saysWhatToDo({ ...standingAlarm("unacknowledged", Date.now() - 90 * minuteMs), value: 8.4, limit: 5 }),
  alarm("drum-not-stopping:mix", "wake", "latched-acknowledged", {
    clearedAt: ago(30),
    acknowledgedBy: "Mara",
  }),
  alarm("float-disagrees:mix.stop", "today", "acknowledged", {
    acknowledgedBy: "Mara",
    raisedAt: ago(20_160),
  }),
  alarm("node-silent:press", "today", "unacknowledged"),
  alarm("float-chatter:fresh.stop", "record", "shelved", { shelvedUntil: ago(-80) }),
];

const nth = ["first", "second", "third", "fourth"] as const;
const asMe = (setUp: boolean) =>
  new Map<string, unknown>([...answers, ["/api/me", { signedIn: null, setUp, plain: true, given: false }]]);

/** A membrane before the resin, with a probe between. */
const withMembrane = {
  points: (nowMs) => {
    const [supply, sediment, carbon, resin] = points(nowMs);
    if (!supply || !sediment || !carbon || !resin) return [];
    const membrane = { ...carbon, id: "after-membrane", title: "After membrane" };
    return [supply, sediment, carbon, { ...membrane, conductivity25: quantity(14.2, "uS/cm", nowMs) }, resin];
  },
  stages: [
    ...stages.slice(0, 2),
    {
      id: "membrane",
      title: "Membrane",
      kind: "membrane",
      from: "after-carbon",
      to: "after-membrane",
      removal: 0.964,
    },
    ...stages.slice(2).map((one) => ({ ...one, from: "after-membrane" })),
  ],
} satisfies Partial<Fixture>;

/** The house as it may stand: each state is what changes against a calm one. */
const states = {
  calm: {},
  /** Resin lets salts through, a drum is on hold, another's water is not known. */
  trouble: {
    alarms: [...trouble],
    points: (nowMs) =>
      points(nowMs).map((one) =>
        one.id === "after-resin" ? { ...one, conductivity25: quantity(8.4, "uS/cm", nowMs) } : one,
      ),
    drums: (nowMs) =>
      drums(nowMs).map((one) =>
        one.id === "mix"
          ? held(one, 60)
          : one.id === "top-up"
            ? {
                ...one,
                water: { ...one.water, verdict: "unknown", reasons: ["nothing heard of this drum yet"] },
              }
            : one,
      ),
    work: [
      { kind: "drum", id: "fresh", by: "Mara", since: ago(60), until: ago(-60), forgotten: false },
      {
        kind: "stage",
        id: "resin",
        by: "button by-the-resin",
        since: ago(180),
        until: ago(60),
        forgotten: true,
      },
    ],
  },
  /** Water at the overflow of a drum that still fills. */
  flood: {
    alarms: [alarm("drum-high-high:fresh", "wake", "unacknowledged"), ...trouble],
    drums: (nowMs) => drums(nowMs).map((one) => (one.id === "fresh" ? held(one, 206) : one)),
  },
  /** Everything was heard ten minutes ago. */
  stale: {
    points: (nowMs) => points(nowMs - 10 * minuteMs),
    drums: (nowMs) => drums(nowMs - 10 * minuteMs).map((one) => ({ ...one, filling: null, flow: null })),
    nodes: (nowMs) => nodes(nowMs - 10 * minuteMs).map((node) => ({ ...node, online: false })),
    alarms: [alarm("node-silent:press", "today", "unacknowledged")],
  },
  /** Nothing is drawn, and nothing was ever heard or told. */
  empty: {
    points: () => [],
    drums: () => [],
    stages: [],
    nodes: () => [],
    answers: new Map<string, unknown>([
      ...answers,
      ...["fills", "alarms/journal", "alarms/silences", "nights", "people", "tokens", "rejections"].map(
        (name) => [`/api/${name}`, { items: [], next: null }] as const,
      ),
    ]),
  },
  /** The line is drawn, and its nodes were never heard. */
  first: {
    nodes: () => [],
    stages: stages.map((one) => ({ ...one, removal: null })),
    series: undefined,
    waitsFor: [
      { node: "press", channels: ["ec-1", "ec-2", "t-1", "flow-1"] },
      { node: "drums", channels: ["float-1", "level-1"] },
    ],
    points: (nowMs) =>
      points(nowMs).map((one) => ({
        ...one,
        conductivity25: { value: null, unit: "uS/cm", flag: 9, at: null, reasons: [] },
        judged: { now: false, because: one.limit === null ? null : "never-heard" },
      })),
    drums: (nowMs) =>
      drums(nowMs).map((one) => ({
        ...one,
        volume: { value: null, unit: "L", flag: 9, at: null, reasons: [] },
        filling: null,
        flow: null,
        timeToTrip: null,
        timeToOverflow: null,
        batch: null,
        water: {
          ...one.water,
          verdict: "unknown",
          since: null,
          blend25: null,
          reasons: ["nothing heard of this drum yet"],
        },
        floats: one.floats.map((float) => ({
          ...float,
          state: "unknown",
          changedAt: null,
          lastProvenAt: null,
        })),
      })),
  },
  /** Nobody is signed in. */
  door: { answers: asMe(false) },
  /** No account was made yet. */
  new: { answers: asMe(true) },
  /** Four filters between five probes, and two drums. */
  nine: {
    ...withMembrane,
    drums: (nowMs) => drums(nowMs).slice(0, 2),
  },
  /** The same with four drums: more than one drawing holds. */
  apart: {
    ...withMembrane,
    drums: (nowMs) => {
      const [fresh, mix, topUp] = drums(nowMs);
      return fresh && mix && topUp ? [fresh, mix, topUp, { ...topUp, id: "spare", title: "Spare drum" }] : [];
    },
  },
  /** Names of forty characters. */
  long: {
    alarms: [...trouble],
    points: (nowMs) =>
      points(nowMs).map((one, at) => ({ ...one, title: `Behind the ${nth[at]} ion-exchange cartridge` })),
    drums: (nowMs) =>
      drums(nowMs).map((one, at) => ({
        ...held(one, 60),
        title: `Quarantine and killifish raising, drum ${at + 1}`,
      })),
  },
} as const satisfies Readonly<Record<string, Partial<Fixture>>>;

/** The name of a state; `lost` is a calm house whose gateway went away. */
export type State = keyof typeof states | "lost";

/** What a gateway shows in a state. */
export function inState(state: State): Fixture {
  return {
    now: () => Date.now(),
    points,
    drums,
    stages,
    nodes,
    alarms: [],
    buckets: null,
    series,
    refuse: false,
    waitsFor: [],
    work: [],
    answers,
    ...(state === "lost" ? {} : states[state]),
  };
}
