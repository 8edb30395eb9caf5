import {
  type Batch,
  type Chlorine,
  type DrumWater,
  type Fill,
  type GuardFigures,
  type Learned,
  testAgainMs,
  tripVolumeL,
  usualDurationMs,
  usualFlowLPerMin,
} from "../../fills/index.ts";
import { becauseOf, type DrumView, type fillView, type iso, type Quantity } from "../../http/index.ts";
import type { Drum } from "../../line/index.ts";
import { say } from "../../words/index.ts";

/** What a drum's card is made of. */
export interface DrumFacts {
  readonly volume: Quantity;
  /** The running fill; null while none runs. */
  readonly fill: Fill | null;
  readonly water: DrumWater | null;
  readonly batch: Batch | null;
  readonly learned: Learned;
  /** Since when a person says that they fill it by hand; null: nobody does. */
  readonly saidFillingMs: number | null;
  /** How fast its level rises or its meter runs, L/min; null where neither tells. */
  readonly flowLPerMin: number | null;
  /** Whether anything tells of its inflow now. */
  readonly inflowKnown: boolean;
  /** Whether anything still tells of the fill that is open. */
  readonly fillHeard: boolean;
  /** 1 wet, 0 dry; null while nothing about now is known. */
  readonly floatState: (id: string) => number | null;
  readonly changedAtMs: (id: string) => number | null;
  /** What is known of a float beside what it says: its tests, when it was proved and wants to be again. */
  readonly float: (
    id: string,
  ) => Omit<DrumView["floats"][number], "id" | "role" | "state" | "changedAt" | "tripsAt">;
  readonly guard: GuardFigures;
  /** What its water may read at most, uS/cm at 25 °C; null: nothing says. */
  readonly band25: number | null;
  /** What tests say of chlorine; null: nobody tested. */
  readonly chlorine: Chlorine | null;
  /** The supply may carry chlorine or chloramine. */
  readonly disinfected: boolean;
  readonly quantities: readonly string[];
  /** Engine time, as every time here; shown as the calendar's. */
  readonly nowMs: number;
  readonly iso: typeof iso;
  readonly fillView: typeof fillView;
}

function missingOf(drum: Drum, facts: DrumFacts): string[] {
  const has = (role: string) => drum.floats.some((float) => float.role === role);
  return [
    ...(drum.level ? [] : [say("no-level")]),
    ...(has("stop") ? [] : [say("no-stop")]),
    ...(facts.disinfected ? [say("no-test")] : []),
    ...(has("overflow") ? [] : [say("no-overflow")]),
  ];
}

/** When the running fill will end, epoch ms: by litres to the trip where they are known, else by the learned time. */
function expectedEndMs(
  drum: Drum,
  facts: DrumFacts,
  flow: number | null,
  tripsAtL: number | null,
): number | null {
  const { fill, volume, learned, nowMs } = facts;
  if (!fill || fill.endedAtMs !== null) return null;
  if (flow && volume.value !== null && tripsAtL !== null && tripsAtL > volume.value)
    return nowMs + ((tripsAtL - volume.value) / flow) * 60_000;
  const usualMs = usualDurationMs(learned);
  if (usualMs !== null) return fill.startedAtMs + usualMs;
  const usual = usualFlowLPerMin(learned);
  return usual ? fill.startedAtMs + (drum.volumeL / usual) * 60_000 : null;
}

/** Since when somebody says that they fill it, epoch ms; what was said before its last fill ended was said of that one. */
function saidFillingMs({ saidFillingMs: saidMs, fill }: DrumFacts): number | null {
  return saidMs !== null && (fill?.endedAtMs ?? 0) < saidMs ? saidMs : null;
}

function releaseView(
  { by, how, atMs, note, value25, over25 }: NonNullable<DrumWater["release"]>,
  iso: DrumFacts["iso"],
): DrumView["water"]["release"] {
  const found = { note: note ?? null, value25: value25 ?? null };
  return { by, how, at: iso(atMs), ...found, ...(over25 === undefined ? {} : { over25 }) };
}

const dayMs = 86_400_000;

/** What conductivity can't see of a drum's water, beside its word; null: the supply carries no disinfectant. */
function unseenOf({ chlorine, disinfected, nowMs }: DrumFacts): string | null {
  if (!disinfected) return null;
  if (chlorine?.failed) {
    const { value, atMs } = chlorine.failed;
    return say((chlorine.passedMs ?? 0) > atMs ? "chlorine-before" : "chlorine-failed", { value });
  }
  if (!chlorine || chlorine.passedMs === null) return say("chlorine-never");
  const ageMs = nowMs - chlorine.passedMs;
  const days = Math.floor(ageMs / dayMs);
  if (ageMs > testAgainMs) return say("chlorine-due", { days });
  if (chlorine.spent) return say("chlorine-first-spent", { value: chlorine.spent.value });
  return days < 1 ? say("chlorine-passed-today") : say("chlorine-passed", { days });
}

function batchView(batch: Batch, drum: Drum, iso: DrumFacts["iso"]): DrumView["batch"] {
  const { id, state, sinceMs, salt, salinity, salinityBy, waits, cameInL } = batch;
  return {
    id,
    state,
    since: iso(sinceMs),
    salt: salt.map(({ atMs, by, kg, lot }) => ({ at: iso(atMs), by, kg, lot })),
    salinity,
    salinityBy,
    target: drum.target.salinity,
    waits: [...waits],
    cameIn: cameInL,
  };
}

/** A drum as its card shows it. */
export function drumView(drum: Drum, facts: DrumFacts): DrumView {
  const running = facts.fill !== null && facts.fill.endedAtMs === null;
  const pours = running && facts.fill?.pausedSinceMs === null;
  // Who said last that it is over is believed until something says otherwise.
  const isSaidOver = facts.fill?.end === "stopped-by-person" && !running;
  const known = facts.inflowKnown || (running && facts.fillHeard);
  const filling = known ? pours : isSaidOver ? false : null;
  const flow =
    running && known ? (facts.flowLPerMin ?? usualFlowLPerMin(facts.learned)) : filling === false ? 0 : null;
  const stop = drum.floats.find((float) => float.role === "stop");
  const tripsAtL = tripVolumeL(facts.learned, stop?.tripsAtL ?? null);
  const secondsTo = (litres: number | null): number | null =>
    filling && flow && litres && facts.volume.value !== null && litres > facts.volume.value
      ? ((litres - facts.volume.value) / flow) * 60
      : null;
  const { water, iso } = facts;
  const reasons = water?.reasons ?? [say("nothing-heard")];
  return {
    id: drum.id,
    title: drum.title,
    fedBy: drum.fedBy,
    holds: drum.holds,
    control: drum.control,
    capacity: drum.volumeL,
    volume: facts.volume,
    filling,
    flow,
    timeToTrip: secondsTo(tripsAtL),
    timeToOverflow: secondsTo(drum.volumeL),
    water: {
      verdict: water?.verdict ?? "unknown",
      since: iso(water?.sinceMs ?? null),
      reasons: [...reasons],
      ...becauseOf(reasons),
      blend25: water?.blend25 ?? null,
      unwatched: water?.unwatched ?? null,
      band25: facts.band25,
      ...(water?.notReady ? { notReady: true } : {}),
      unseen: unseenOf(facts),
      release: water?.release ? releaseView(water.release, iso) : null,
    },
    batch: facts.batch && batchView(facts.batch, drum, iso),
    fill: facts.fill && running ? facts.fillView(facts.fill) : null,
    saidFilling: running ? null : iso(saidFillingMs(facts)),
    expectedEnd: iso(expectedEndMs(drum, facts, flow, tripsAtL)),
    floats: drum.floats.map((float) => {
      const state = facts.floatState(float.id);
      return {
        id: float.id,
        role: float.role,
        state: state === null ? "unknown" : state === 1 ? "wet" : "dry",
        changedAt: iso(facts.changedAtMs(float.id)),
        ...facts.float(float.id),
        tripsAt: float.role === "stop" ? tripsAtL : float.tripsAtL,
      };
    }),
    quantities: [...facts.quantities],
    guard: { ...facts.guard, by: [...facts.guard.by], unseen: [...facts.guard.unseen] },
    missing: missingOf(drum, facts),
  };
}
