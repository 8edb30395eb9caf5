import type { AlarmChange } from "@drumlin/gateway/alarms";
import type { Fill } from "@drumlin/gateway/fills";
import type { Logbook, LogbookOutcome } from "@drumlin/gateway/logbook";
import { nightWindow } from "@drumlin/gateway/quantities";

export const timezone = "Europe/Berlin";
const [fillsADay, drawsADay, alarmsADay, gapsADay] = [8, 20, 12, 6];
const hourMs = 3_600_000;
export const days = 365;

function fill(id: number, atMs: number): Fill {
  return {
    kind: "fill",
    id: `fresh@${atMs}`,
    drum: id % 2 === 0 ? "fresh" : "mix",
    startedAtMs: atMs,
    endedAtMs: atMs + hourMs / 2,
    pausedSinceMs: null,
    litres: 60,
    basis: "level",
    estimated: false,
    mean25: 0.6,
    peak25: 1.2,
    firstWater25: 3,
    end: "float-tripped",
    tripConfirmed: true,
    trippedAtMs: atMs + hourMs / 2,
    tripAtL: 171,
    watched: 0.98,
    notStopping: null,
    reasons: [],
    revision: 0,
  };
}

function change(place: number, atMs: number, to: AlarmChange["to"], key: string): AlarmChange {
  return {
    kind: "alarm",
    id: `${place}/${key}/0`,
    atMs,
    from: "normal",
    to,
    why: to === "normal" ? "returned" : "raised",
    by: null,
    annunciated: true,
    alarm: {
      key,
      occurrence: `${place - (to === "normal" ? 1 : 0)}`,
      condition: "node-silent",
      subject: key,
      attention: "today",
      state: to,
      active: to !== "normal",
      latched: false,
      under: null,
      judged: { now: true, because: null, sinceMs: atMs },
      raisedAtMs: atMs,
      clearedAtMs: null,
      acknowledgedAtMs: null,
      acknowledgedBy: null,
      shelvedUntilMs: null,
      value: 90,
      limit: 60,
      unit: "s",
      text: "Node is silent",
      response: "Look whether its drum fills; then at its power and network, and start it again.",
    },
  };
}

/** Writes the records of a busy house's year from `firstMs` on; gives how many. */
export function writeYear(logbook: Pick<Logbook, "record">, firstMs: number): number {
  let place = 1;
  let records = 0;
  for (let day = 0; day < days; day += 1) {
    const dayMs = firstMs + day * 24 * hourMs;
    const told: LogbookOutcome[] = [];
    for (let n = 0; n < fillsADay; n += 1) told.push(fill(n, dayMs + n * 3 * hourMs));
    for (let n = 0; n < drawsADay; n += 1) {
      const atMs = dayMs + n * hourMs + 60_000;
      told.push({
        kind: "draw",
        id: `fresh@${atMs}`,
        drum: "fresh",
        fromMs: atMs,
        toMs: atMs + 60_000,
        litres: 12,
      });
      told.push({
        kind: "float-change",
        id: `fresh.stop@${atMs}`,
        drum: "fresh",
        role: "stop",
        wet: n % 2 === 0,
        atMs,
        litres: 170,
      });
    }
    for (let n = 0; n < alarmsADay; n += 1) {
      const atMs = dayMs + n * 2 * hourMs;
      told.push(change(place, atMs, "unacknowledged", `node-silent:${n % 5}`));
      told.push(change(place + 1, atMs + 600_000, "normal", `node-silent:${n % 5}`));
      place += 2;
    }
    for (let n = 0; n < gapsADay; n += 1) {
      const fromMs = dayMs + n * 4 * hourMs;
      told.push({
        kind: "gap",
        id: `press/ec-1@${fromMs}`,
        of: "channel",
        subject: "press/ec-1",
        fromMs,
        toMs: fromMs + 600_000,
      });
    }
    const date = new Date(dayMs).toISOString().slice(0, 10);
    told.push({ kind: "night", timezone, ...nightWindow(date, timezone) });
    logbook.record(told);
    records += told.length;
  }
  return records;
}
