import type {
  AlarmChangeView,
  AlarmFiguresView,
  DerivationView,
  FillView,
  InfluxView,
  RejectionView,
} from "@drumlin/gateway/contract";
import { lineReference } from "@drumlin/gateway/line";
import { standingAlarm } from "../fixture-server.ts";
import { drawn, pictures } from "./drawing.ts";
import { destinations, told } from "./messages.ts";
import { night, nightLine } from "./night.ts";

const hour = 3_600_000;
const ago = (ms: number) => new Date(Date.now() - ms).toISOString();
const list = <Item>(items: readonly Item[]) => ({ items, next: null });

const fill = (drum: string, hoursAgo: number, change: Partial<FillView> = {}): FillView => ({
  id: `${drum}@${hoursAgo}`,
  drum,
  startedAt: ago(hoursAgo * hour),
  endedAt: ago((hoursAgo - 0.8) * hour),
  pausedSince: null,
  litres: 112,
  estimated: false,
  basis: "flow-meter",
  mean25: 0.6,
  peak25: 0.9,
  firstWater25: 12,
  end: "float-tripped",
  tripConfirmed: true,
  trippedAt: ago((hoursAgo - 0.8) * hour),
  tripAt: 171,
  watched: 1,
  notStopping: null,
  reasons: [],
  revision: 0,
  ...change,
});
const fills = [3, 9, 21, 30, 44, 52, 70, 94].flatMap((hours) => [
  fill("fresh", hours),
  fill("mix", hours + 2, { tripConfirmed: hours !== 9, end: hours === 9 ? "not-stopping" : "float-tripped" }),
]);

const change = (at: number): AlarmChangeView => ({
  id: `c${at}`,
  at: ago(at * 2.3 * hour),
  from: "unacknowledged",
  to: at % 3 === 0 ? "unacknowledged" : "acknowledged",
  why: at % 3 === 0 ? "raised" : at % 3 === 1 ? "acknowledged" : "returned",
  by: at % 3 === 1 ? "Mara" : null,
  annunciated: at % 3 === 0,
  alarm: standingAlarm("acknowledged", Date.now() - 60_000),
});

const week: AlarmFiguresView = {
  from: ago(168 * hour),
  to: ago(0),
  calls: 9,
  callsPerDay: 1.3,
  needed: 4,
  conditions: [{ condition: "resin-breakthrough", calls: 6, callsPerDay: 0.9 }],
  stale: ["resin-breakthrough:after-resin"],
  chattering: [],
  seenWithin10Min: 0.9,
  medianUntilSeen: 240,
  sentence: "",
};

const influx: InfluxView = {
  server: "http://influx.example:8086, database saltmarsh",
  failure: {
    code: "influx-unreachable",
    title: "The server does not answer",
    said: "connect ECONNREFUSED 192.0.2.7:8086",
    todo: "Is it on? Is its address right?",
  },
  sent: 120_000,
  waiting: { batches: 31, stretches: 2, since: ago(hour), behindSeconds: 3600 },
  aside: [],
};

const derivation: DerivationView = {
  running: { from: ago(14 * 24 * hour), to: ago(0), percent: 37 },
  waiting: 1,
  failure: null,
};

const rejection: RejectionView = {
  code: "unit-percent",
  title: '"%" means something else in SenML',
  todo: "Send / and a ratio.",
  node: "drums",
  count: 1038,
  lastAt: ago(60_000),
  examples: [
    {
      at: ago(60_000),
      topic: "drumlin/1/saltmarsh-house/drums/readings",
      detail: "",
      example: '[{"n":"level-1","u":"%","v":63.2},{"n":"level-2","u":"%","v":31.9}]',
    },
  ],
};

const people = [
  { name: "keeper", role: "operator", madeAt: ago(900 * hour), disabled: false },
  { name: "Mara", role: "operator", madeAt: ago(700 * hour), disabled: false },
  {
    name: "a-visitor-with-a-rather-long-name-of-40",
    role: "viewer",
    madeAt: ago(300 * hour),
    disabled: true,
  },
];
const changed = (hoursAgo: number, before: number, after: number) => ({
  at: ago(hoursAgo * hour),
  by: "Mara",
  what: "line-changed",
  subject: "limits.resin-breakthrough:after-resin.limit",
  refused: null,
  before: { value: `${before} uS/cm` },
  after: { value: `${after} uS/cm` },
});
const calibration = (hoursAgo: number, read: number) => ({
  channel: "press/after-resin",
  at: ago(hoursAgo * hour),
  by: "Mara",
  note: "new standard, opened that day",
  points: [{ read, true: 1413 }],
});

/** What the gateway of the house answers to what its pages ask for. */
export const answers: ReadonlyMap<string, unknown> = new Map<string, unknown>([
  ["/api/line/drawing", drawn],
  ["/api/line/pictures", pictures],
  ["/api/line/reference", { sections: lineReference() }],
  ["/api/fills", list(fills)],
  ["/api/alarms/journal", list(Array.from({ length: 40 }, (_, at) => change(at)))],
  ["/api/alarms/kpi", week],
  [
    "/api/alarms/silences",
    list([
      {
        key: "float-chatter:fresh.stop",
        occurrence: "3.1",
        state: "out-of-service",
        until: ago(-40 * hour),
        since: ago(hour),
        by: "Mara",
        reason: "The float is being changed: a new one comes on Friday",
      },
    ]),
  ],
  ["/api/nights", list(Array.from({ length: 24 }, (_, at) => nightOf(24 - at)))],
  ["/api/nights/2026-11-24", night],
  ["/api/notifications", destinations],
  ["/api/notifications/messages", told],
  ["/api/people", list(people)],
  ["/api/tokens", list([{ name: "bridge-to-the-weather-station", role: "viewer", madeAt: ago(90 * hour) }])],
  ["/api/rejections", list([rejection])],
  [
    "/api/records/gap",
    list([
      {
        kind: "gap",
        of: "channel",
        subject: "drums/level-1",
        fromMs: Date.now() - 14 * hour,
        toMs: Date.now() - 13.4 * hour,
      },
      {
        kind: "gap",
        of: "channel",
        subject: "drums/float-1",
        fromMs: Date.now() - 14 * hour,
        toMs: Date.now() - 13.3 * hour,
      },
      {
        kind: "gap",
        of: "gateway",
        subject: "gateway",
        fromMs: Date.now() - 5 * hour,
        toMs: Date.now() - 4.8 * hour,
      },
    ]),
  ],
  [
    "/api/records/presence",
    list([{ kind: "presence", node: "press", online: true, atMs: Date.now() - 19 * hour, seq: 1 }]),
  ],
  ["/api/influx", influx],
  ["/api/derivation", derivation],
  ["/api/audit", list([changed(20, 8, 5), changed(400, 5, 8)])],
  ["/api/calibrations", list([calibration(30, 1387), calibration(800, 1399)])],
  ["POST /api/seen/look", { key: "resin-breakthrough:after-resin", occurrence: "7.1", stands: true }],
]);

function nightOf(day: number) {
  const isBad = day === 24 || day === 17;
  return nightLine(day, {
    attention: isBad ? "wake" : day === 20 ? "today" : null,
    watched: isBad ? 0.72 : 1,
    litres: 150 + ((day * 37) % 120),
    drums: [
      { drum: "fresh", litres: 90 + ((day * 17) % 60), mean25: 0.6, peak25: isBad ? 8.4 : 0.9 },
      { drum: "mix", litres: 60, mean25: isBad ? 7.2 : 0.7, peak25: 0.9 },
    ],
  });
}
