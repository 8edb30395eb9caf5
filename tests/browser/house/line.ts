import type { Buckets, DrumView, LineView, PointView } from "@drumlin/gateway/contract";
import { goodDrum, goodPoint, quantity } from "../fixture-server.ts";

const minuteMs = 60_000;
const iso = (ms: number) => new Date(ms).toISOString();

function point(nowMs: number, id: string, title: string, kappa: number, limit: number | null): PointView {
  const good = goodPoint(nowMs);
  return {
    ...good,
    id,
    title,
    limit,
    conductivity25: quantity(kappa, "uS/cm", nowMs),
    conductivity: quantity(kappa * 0.87, "uS/cm", nowMs),
    solids: quantity(kappa * 0.64, "mg/L", nowMs),
    judged: limit === null ? { now: false, because: null } : { now: true, because: null },
    probe: { channel: `press/${id}`, said: kappa * 0.87 },
    quantities: ["conductivity25", "conductivity", "temperature"],
  };
}

/** The points of the house, from supply to resin, measured at `nowMs`. */
export const points = (nowMs: number): PointView[] => [
  point(nowMs, "supply", "Supply", 402, null),
  point(nowMs, "after-sediment", "After sediment", 401, null),
  point(nowMs, "after-carbon", "After carbon", 398, null),
  point(nowMs, "after-resin", "After resin", 0.62, 5),
];

const stage = (kind: string, title: string, from: string, to: string) => ({
  id: kind,
  title,
  kind,
  from,
  to,
  removal: kind === "resin" ? 0.998 : 0,
});
/** What the water passes through. */
export const stages: LineView["stages"] = [
  stage("sediment", "Sediment", "supply", "after-sediment"),
  stage("carbon", "Carbon", "after-sediment", "after-carbon"),
  stage("resin", "Resin", "after-carbon", "after-resin"),
];

const missing = [
  "Overflow: no float, no floor sensor. Next to buy: a floor sensor.",
  "Chlorine and ammonia: no probe sees them. Test by hand.",
];

function drum(
  nowMs: number,
  { id, title, fedBy }: Pick<DrumView, "id" | "title" | "fedBy">,
  [litres, capacity, trip]: readonly [number, number, number],
): DrumView {
  const good = goodDrum(nowMs);
  const [stop] = good.floats;
  return {
    ...good,
    id,
    title,
    fedBy,
    capacity,
    volume: quantity(litres, "L", nowMs),
    floats: stop ? [{ ...stop, id: `${id}.stop`, trip, tripsAt: trip }] : [],
    guard: {
      by: ["the litres that came in since its float was wet, by its own meter"],
      unseen: ["a leak under 0.5 L/min: 24 L in 8 h"],
      next: "Next: an overflow float on another node, or a floor sensor.",
    },
    missing,
  };
}

/** Three drums: one fills, one holds salt water, two hang at the same point. Their water may be used. */
export function drums(nowMs: number): DrumView[] {
  const fresh = drum(nowMs, { id: "fresh", title: "Fresh drum", fedBy: "after-carbon" }, [130, 200, 170]);
  const mix = drum(nowMs, { id: "mix", title: "Mix drum", fedBy: "after-resin" }, [186, 200, 170]);
  const topUp = drum(nowMs, { id: "top-up", title: "Top-up drum", fedBy: "after-resin" }, [45, 60, 50]);
  const blend = { ...fresh.water, blend25: 0.84, unwatched: 0.02 };
  return [
    {
      ...fresh,
      filling: true,
      flow: 2.6,
      timeToTrip: 2700,
      timeToOverflow: 4400,
      water: { ...blend, blend25: 398, unseen: "Chlorine passed 3 days ago." },
    },
    {
      ...mix,
      holds: "salt",
      control: "manual",
      water: blend,
      batch: {
        id: "mix@1",
        state: "ready",
        since: iso(nowMs - 90 * minuteMs),
        salt: [{ at: iso(nowMs - 300 * minuteMs), by: "Mara", kg: 6.3, lot: "A-117" }],
        salinity: 34.9,
        salinityBy: "hand",
        target: 35,
        waits: [],
        cameIn: 0,
      },
    },
    { ...topUp, water: blend },
  ];
}

type Channel = LineView["nodes"][number]["channels"][number];

const says = (
  channel: string,
  [kind, id]: readonly [kind: string, id: string],
  quantityName: string,
  now: Channel["now"],
): Channel => ({ channel, of: { kind, id }, quantity: quantityName, now });

/** What the channels of the two nodes said last: each kind there is, one of them an hour ago. */
const saidByPress = (nowMs: number): Channel[] => [
  says("press/ec-1", ["point", "supply"], "conductivity", quantity(350, "uS/cm", nowMs)),
  says("press/t-1", ["point", "supply"], "temperature", quantity(18, "Cel", nowMs)),
  says("press/flow-1", ["flow", "after-carbon"], "flow", quantity(2.59, "L/min", nowMs)),
  says("press/p-1", ["point", "supply"], "pressure", quantity(3.1, "bar", nowMs)),
  says("press/drain", ["waste", "resin"], "flow", quantity(1.5, "L/min", nowMs)),
  says("press/pump", ["pump", "booster"], "state", quantity(1, "1", nowMs)),
];
const saidByDrums = (nowMs: number): Channel[] => [
  says("drums/level-1", ["drum", "fresh"], "volume", quantity(130, "L", nowMs)),
  says("drums/float-2", ["float", "mix.stop"], "state", quantity(0, "1", nowMs)),
  says("drums/valve", ["inlet", "mix"], "state", {
    ...quantity(0, "1", nowMs - 3_600_000),
    value: null,
    flag: 9,
    reasons: ["old"],
    was: 0,
  }),
];

/** Nodes of the house: one speaks well, one had faults and a channel without a place. */
export const nodes = (nowMs: number): LineView["nodes"] => [
  {
    id: "press",
    online: true,
    firmware: "0.3.1",
    requests: ["report-now", "identify", "set-period"],
    periodS: 5,
    lastSeen: iso(nowMs),
    startedAt: iso(nowMs - 3 * 86_400_000),
    packs: 40_337,
    gaps: 3,
    repeats: 2,
    rejected: 0,
    channels: saidByPress(nowMs),
    unassigned: [],
  },
  {
    id: "drums",
    online: true,
    firmware: null,
    requests: [],
    periodS: null,
    lastSeen: iso(nowMs - 2000),
    startedAt: iso(nowMs - 9 * 86_400_000),
    packs: 5040,
    gaps: 216,
    repeats: 0,
    rejected: 1038,
    channels: saidByDrums(nowMs),
    unassigned: [{ channel: "drums/ec-3", value: 0.31, unit: "S/m", at: iso(nowMs) }],
  },
];

/** A curve for what is asked: contents as a saw of fills, points steady with a hump, and a gap. */
export function series(fromMs: number, toMs: number, count: number, path: string): Buckets {
  const bucketMs = (toMs - fromMs) / count;
  const t = Array.from({ length: count }, (_, at) => fromMs + at * bucketMs);
  const isDrum = path.includes("/drums/");
  const level = path.includes("after-resin") ? 0.6 : 400;
  const mean = t.map((_, at) => {
    const x = at / count;
    if (x > 0.42 && x < 0.45) return null;
    if (isDrum) return 60 + 110 * ((x * 5) % 1);
    return x > 0.7 && x < 0.8 && level < 1 ? 7.4 : level * (1 + 0.05 * Math.sin(x * 20));
  });
  const times = (factor: number) => mean.map((value) => (value === null ? null : value * factor));
  return {
    unit: isDrum ? "L" : "uS/cm",
    bucketMs,
    t,
    mean,
    min: times(0.95),
    max: times(1.07),
    count: mean.map((value) => (value === null ? 0 : 30)),
    flag: mean.map((value, at) => (value === null ? 9 : at % 50 === 7 ? 3 : 1)),
  };
}
