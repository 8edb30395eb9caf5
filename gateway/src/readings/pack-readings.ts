import { countedBy, type ResolvedRecord } from "@drumlin/firmware-protocol";
import { dayOf } from "./channel-names.ts";
import type { MessageEntry } from "./entry.ts";
import type { NodePacks, TimedPack } from "./node-packs.ts";
import type { Reading } from "./reading.ts";
import { byTimeThenTemperature } from "./reading-order.ts";
import { type Rejection, type RejectionCode, rejectionOf } from "./rejection.ts";
import type { Emit } from "./stage.ts";
import { startChannel } from "./start-channel.ts";
import type { WaitingRecord } from "./waiting-pack.ts";

/** Inputs of a node are not judged for so long after its start. */
const bootSettleMs = 10_000;
const oldestMs = 400 * 86_400_000;
const aheadMs = 5 * 60_000;
const maxNameLength = 128;
const shownNameLength = 96;
/** Farthest time that a Date holds, ms from 1970 either way (ECMA-262, time values). */
const farthestMs = 8.64e15;

function timeText(tMs: number): string {
  return Math.abs(tMs) <= farthestMs ? new Date(tMs).toISOString() : `${tMs} ms, which is no date`;
}

/** Which node, at which engine time, and by how much the calendar is ahead of it. */
export interface Taking {
  readonly node: string;
  readonly nowMs: number;
  readonly offsetMs: number;
}

function flagOf({ upMs }: TimedPack, { relative, s }: WaitingRecord): Reading["flag"] {
  if (upMs !== null && upMs + (relative ? s * 1000 : 0) < bootSettleMs) return 3;
  return relative && upMs === null ? 2 : 1;
}

/** Hands on the readings of a pack by time, temperatures first, then by channel; refuses what has an impossible time. */
export function tellPack(timed: TimedPack, taking: Taking, emit: Emit<Reading | Rejection>): void {
  const { pack, madeAtMs } = timed;
  const { node, nowMs, offsetMs } = taking;
  const out: Reading[] = [];
  const { start } = pack;
  let startToldMs: number | null = null;
  for (const record of pack.records) {
    const { channel, unit, value, relative, s, index } = record;
    const tMs = Math.round(relative ? madeAtMs + s * 1000 : s * 1000 - offsetMs);
    if (tMs > nowMs + aheadMs || tMs < nowMs - oldestMs) {
      const code = tMs > nowMs ? "time-too-far-ahead" : "time-too-old";
      const detail = `${channel} says ${timeText(tMs + offsetMs)}; the gateway's time is ${timeText(nowMs + offsetMs)}.`;
      emit(
        rejectionOf(pack, {
          node,
          atMs: nowMs,
          code,
          detail,
          example: `${channel} ${value}`,
          record: index,
        }),
      );
      continue;
    }
    const { seq, receivedAtMs } = pack;
    const flag = flagOf(timed, record);
    if (start !== undefined && startToldMs !== tMs && countedBy(channel)) {
      startToldMs = tMs;
      const started = { channel: startChannel(node), unit: null, value: start };
      out.push({ kind: "reading", seq, node, ...started, tMs, receivedAtMs, flag });
    }
    out.push({ kind: "reading", seq, node, channel, unit, value, tMs, receivedAtMs, flag });
  }
  if (!isInOrder(out)) out.sort(byTimeThenTemperature);
  for (const reading of out) emit(reading);
}

/** Most packs are written in order: to look costs less than to sort. */
function isInOrder(readings: readonly Reading[]): boolean {
  for (let index = 1; index < readings.length; index += 1)
    if (byTimeThenTemperature(readings[index - 1] as Reading, readings[index] as Reading) > 0) return false;
  return true;
}

/** Why a record is no reading; null when it is one. */
function refusalOf(
  record: ResolvedRecord,
  packs: NodePacks,
  nowMs: number,
): { readonly code: RejectionCode; readonly detail: string } | null {
  const { value, isData } = record;
  const name = record.name.slice(0, shownNameLength);
  if (value === null)
    return { code: "value-missing", detail: `${name} carries only a sum; a reading needs "v" or "vb".` };
  if (typeof value === "string")
    return {
      code: isData ? "value-is-data" : "value-is-text",
      detail: `${name} carries ${isData ? "data" : "text"}, no number.`,
    };
  if (record.name.includes("/") || record.name.length > maxNameLength)
    return { code: "name-not-allowed", detail: "A channel's name has no / and at most 128 signs." };
  if (!packs.names.take(record.name, nowMs))
    return {
      code: "channels-too-many",
      detail: `${name} is one more than the 256 channels that a node may have.`,
    };
  return null;
}

/** The records of a pack that are readings; the others are refused by name. */
export function usableRecords(
  records: readonly ResolvedRecord[],
  {
    entry,
    packs,
    emit,
  }: {
    readonly entry: MessageEntry;
    readonly packs: NodePacks;
    readonly emit: Emit<Rejection>;
  },
  { node, nowMs }: Taking,
): WaitingRecord[] {
  const out: WaitingRecord[] = [];
  const today = dayOf(nowMs);
  const { names } = packs;
  for (const record of records) {
    const { name, unit, value, time, index } = record;
    const { relative, s } = time;
    const isUsable = typeof value === "number" || typeof value === "boolean";
    const known = isUsable ? names.heardOn(today, name) : undefined;
    if (known !== undefined) {
      out.push({ channel: known, unit, value: Number(value), relative, s, index });
      continue;
    }
    const refused = refusalOf(record, packs, nowMs);
    if (refused) {
      const example = `${name.slice(0, shownNameLength)} ${String(value).slice(0, 100)}`;
      emit(rejectionOf(entry, { node, atMs: nowMs, ...refused, example, record: index }));
    } else {
      const channel = names.channelOf(node, name);
      names.keepFor(today, name, channel);
      out.push({ channel, unit, value: Number(value), relative, s, index });
    }
  }
  return out;
}
