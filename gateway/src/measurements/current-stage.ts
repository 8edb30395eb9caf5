import { type CompiledLine, compileLine, nodeOf } from "../line/index.ts";
import type { Stage, StageContext } from "../path/index.ts";
import { afterStep, type NodeNow, nodeCell, type Spacing } from "../readings/index.ts";
import {
  type CurrentMeasurement,
  type LateMeasurement,
  type Latest,
  latestCell,
  type StaleMeasurement,
  type Unheard,
} from "./latest.ts";
import { type Gone, type Measurement, seriesOf } from "./measurement.ts";

const minLifeMs = 60_000;
const periods = 3;
/** What waited in a node comes within this time; one that always comes late has a wrong clock, and is followed no longer. */
const backlogMs = 5 * 60_000;
/** Clocks of nodes and of the gateway go together to within this. */
const aheadMs = 10_000;
const earliest = "earliest";
/** The gateway may be away for half of the time for which a measurement is about now. */
const briefShare = 2;

type Made<Plain> = { -readonly [Key in keyof Plain]: Plain[Key] };
type Told = CurrentMeasurement | LateMeasurement | StaleMeasurement | Gone | Unheard;
type Context = StageContext<Told>;
interface Start {
  readonly kind: "start";
  readonly receivedAt: number;
}

/** How long a measurement of a node is about now: 60 s, or 3 of its periods. */
export function lifeMs(node: NodeNow | undefined): number {
  return Math.max(minLifeMs, periods * (node?.periodMs ?? 0));
}

/** How long a measurement of one series is about now; `ownMs`: its own spacing, where its node announces none. */
export const seriesLifeMs = (node: NodeNow | undefined, ownMs: number | undefined): number =>
  Math.max(lifeMs(node), periods * (ownMs ?? 0));

/** A step that is no longer than this changes nothing of how long a measurement is about now. */
const seldomMs = minLifeMs / periods;

/** Spacing of a series by what was heard, where its node announces none, or sends it more seldom than it announces. */
function spacingOf(
  before: Latest | undefined,
  { tMs }: Measurement,
  announcedMs: number | null,
): Spacing | undefined {
  if (!before) return undefined;
  const { measurement, spacingMs, otherSpacing } = before;
  const stepMs = tMs - measurement.tMs;
  if (announcedMs !== null && spacingMs === undefined && stepMs <= Math.max(seldomMs, 2 * announcedMs))
    return undefined;
  const knownMs = spacingMs ?? announcedMs;
  const known = knownMs === null ? undefined : { ms: knownMs, ...(otherSpacing && { other: otherSpacing }) };
  const spacing = afterStep(known, stepMs);
  const isAsAnnounced = announcedMs !== null && spacing && !spacing.other && spacing.ms <= 2 * announcedMs;
  return isAsAnnounced ? undefined : spacing;
}

function changedAtMs(before: Latest | undefined, { quantity, value, tMs }: Measurement): number | null {
  if (quantity !== "state") return null;
  // The start of a node is no change of its contacts, and the first word of a contact neither.
  const was = before?.measurement.value ?? null;
  return value !== null && was !== null && was !== value ? tMs : (before?.changedAtMs ?? null);
}

/** What was due to be heard again and was not is gone, the longest due first. */
function tellGone(ctx: Context): void {
  const { nowMs } = ctx;
  const due: [series: string, latest: Latest][] = [];
  // Looked at again and again, and nearly always in vain: no list of all is made.
  for (const entry of ctx.entries(latestCell)) if (!entry[1].gone && entry[1].dueMs <= nowMs) due.push(entry);
  if (due.length === 0) return;
  due.sort(([a, { dueMs: aMs }], [b, { dueMs: bMs }]) => aMs - bMs || (a < b ? -1 : 1));
  for (const [series, latest] of due) {
    ctx.put(latestCell, series, { ...latest, gone: true });
    const { channel, subject, quantity, tMs } = latest.measurement;
    ctx.tell({ kind: "gone", channel, subject, quantity, lastMs: tMs });
  }
}

interface Begin {
  readonly node: NodeNow | undefined;
  readonly receivedAt: number;
  readonly ctx: Context;
}

/** The gateway was away: what it could not hear of a series in that time has not fallen silent. */
function begin(series: string, latest: Latest, { node, receivedAt, ctx }: Begin): void {
  const { measurement, spacingMs: ownMs, gone } = latest;
  const { channel, subject, quantity, tMs } = measurement;
  const livesMs = seriesLifeMs(node, ownMs);
  // Between two packs nothing was to be heard, and a few that are lost are no silence otherwise either.
  const briefMs = Math.max(node?.periodMs ?? 0, ownMs ?? 0, livesMs / briefShare);
  if (!gone && receivedAt < tMs + briefMs) return;
  ctx.tell({ kind: "unheard", channel, subject, quantity, lastMs: tMs });
  const dueMs = receivedAt + livesMs;
  if (!gone && dueMs > latest.dueMs) ctx.put(latestCell, series, { ...latest, dueMs });
}

/**
 * Tells which measurements are about now: the newest of their series, and younger than 60 s or 3 periods of their
 * node. Only these move what is shown and judged; what came late is history. One that is not followed in that time is
 * told to be gone, once.
 */
export function createCurrentStage(): Stage<Measurement | Start, Told> {
  // Never later than the earliest due time; a series that was heard again leaves it early, and the next look finds the true one.
  let earliestMs = Number.POSITIVE_INFINITY;
  let slotOf: CompiledLine["slotOf"] = new Map();

  function arm(dueMs: number, ctx: Context): void {
    if (dueMs < earliestMs) ctx.wakeAt(earliest, dueMs);
    earliestMs = Math.min(earliestMs, dueMs);
  }

  function armAll(ctx: Context): void {
    earliestMs = Number.POSITIVE_INFINITY;
    ctx.wakeAt(earliest, null);
    for (const [, { dueMs, gone }] of ctx.entries(latestCell)) if (!gone) arm(dueMs, ctx);
  }

  const nodeNow = (channel: string, ctx: Context) =>
    ctx.get(nodeCell, slotOf.get(channel)?.node ?? nodeOf(channel));
  return {
    name: "current",
    version: 1,
    owns: [latestCell],
    reads: [nodeCell],
    hears: {
      measurement(measurement, ctx) {
        const series = seriesOf(measurement);
        const before = ctx.get(latestCell, series);
        // One that is of a time to come was dated by a clock that has been set right since.
        const isOlder = before !== undefined && measurement.tMs < before.measurement.tMs;
        if (isOlder && before.measurement.tMs <= ctx.nowMs + aheadMs) return;
        const node = nodeNow(measurement.channel, ctx);
        const own = spacingOf(before, measurement, node?.periodMs ?? null);
        const dueMs = measurement.tMs + seriesLifeMs(node, own?.ms);
        const isCurrent = ctx.nowMs < dueMs;
        const lateSinceMs = isCurrent || !before ? null : (before.lateSinceMs ?? ctx.nowMs);
        const latest: Made<Latest> = {
          measurement,
          dueMs,
          gone: !isCurrent,
          changedAtMs: changedAtMs(before, measurement),
        };
        // What is not known is left out: spreads of nothing cost more than all the rest.
        if (lateSinceMs !== null) latest.lateSinceMs = lateSinceMs;
        if (own) latest.spacingMs = own.ms;
        if (own?.other) latest.otherSpacing = own.other;
        ctx.put(latestCell, series, latest);
        if (!isCurrent) {
          const isNext = before !== undefined && measurement.tMs > before.measurement.tMs;
          if (!isNext || lateSinceMs === null) return;
          ctx.tell({ kind: ctx.nowMs - lateSinceMs <= backlogMs ? "late" : "stale", measurement });
          return;
        }
        arm(dueMs, ctx);
        ctx.tell({ kind: "current", measurement, series });
      },
      start({ receivedAt }, ctx) {
        for (const [series, latest] of [...ctx.entries(latestCell)])
          begin(series, latest, { node: nodeNow(latest.measurement.channel, ctx), receivedAt, ctx });
        armAll(ctx);
      },
    },
    useLine(line) {
      slotOf = compileLine(line).slotOf;
    },
    wake(_key, ctx) {
      tellGone(ctx);
      armAll(ctx);
    },
    // Everything is in the cell.
    dirty: () => [],
    load(_rows, fromVersion, ctx) {
      armAll(ctx);
      return fromVersion <= 1;
    },
  };
}
