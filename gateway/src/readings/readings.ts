import {
  decodePack,
  type PackLabels,
  parsePresence,
  parseTopic,
  type ResolvedRecord,
  readLabels,
  resolvePack,
} from "@drumlin/firmware-protocol";
import type { StateRow } from "../path/index.ts";
import { ChannelNames, type HeardName } from "./channel-names.ts";
import type { MessageEntry } from "./entry.ts";
import { type ForeignTopic, takeForeign } from "./foreign.ts";
import { type BootClock, begunAnew, firstClock, observe } from "./node-time.ts";
import type { NodePresence, PackTaken, Reading } from "./reading.ts";
import { byTimeThenTemperature } from "./reading-order.ts";
import { exampleOf, type Rejection, type RejectionCode, rejectionOf } from "./rejection.ts";
import { hashOf, type SeenBoot, type SeenBootHead, SeenPacks, type TakenPack } from "./repeats.ts";
import type { Emit } from "./stage.ts";
import type { WaitingPack, WaitingRecord } from "./waiting-pack.ts";

const mostNodes = 1000;
/** Packs of one node that may wait for its clock to settle. */
const mostWaiting = 10_000;
/** A boot that falls silent before its clock settled is taken as it stands after this long. */
const settleSilenceMs = 30_000;
/** Inputs of a node are not judged for so long after its start. */
const bootSettleMs = 10_000;
const oldestMs = 400 * 86_400_000;
const aheadMs = 5 * 60_000;

/** What is remembered of one node, as plain data. */
export interface SavedNode {
  readonly seen: readonly SeenBootHead[];
  readonly boot: number | null;
  readonly clock: BootClock | null;
  readonly waiting: readonly WaitingPack[];
  readonly lastPackMs: number;
  /** Missing in what an earlier version kept. */
  readonly names?: readonly HeardName[];
}

interface NodeState {
  seen: SeenPacks;
  boot: number | null;
  clock: BootClock | null;
  waiting: WaitingPack[];
  lastPackMs: number;
  names: ChannelNames;
}

/** The whole state as an earlier version kept it. */
export interface ReadingsState {
  readonly nodes: Readonly<Record<string, Omit<SavedNode, "seen"> & { readonly seen: readonly SeenBoot[] }>>;
}

/** What comes out of this stage. */
export type ReadingsOutcome = Reading | NodePresence | PackTaken | Rejection;

/**
 * Bytes to readings: topic, SenML, labels, node time, repeats. What can't be taken comes out as a rejection with its
 * name and spoils nothing else. Records of one pack come out by time, temperatures first, then by channel name.
 */
export function createReadings() {
  let site: string | null = null;
  let offsetMs = 0;
  const nodes = new Map<string, NodeState>();
  const waitingNodes = new Set<string>();
  const changedNodes = new Set<string>();
  let foreign = new Map<string, ForeignTopic[]>();

  function nodeState(node: string): NodeState | null {
    let state = nodes.get(node);
    changedNodes.add(node);
    if (!state) {
      if (nodes.size >= mostNodes) {
        changedNodes.delete(node);
        return null;
      }
      state = {
        seen: new SeenPacks(),
        boot: null,
        clock: null,
        waiting: [],
        lastPackMs: 0,
        names: new ChannelNames(),
      };
      nodes.set(node, state);
    }
    return state;
  }

  function emitPack(
    node: string,
    clock: BootClock | null,
    pack: WaitingPack,
    nowMs: number,
    emit: Emit<ReadingsOutcome>,
  ): void {
    const madeAtMs = clock ? pack.upMs + clock.offsetMs : pack.receivedAtMs;
    const out: Reading[] = [];
    for (const record of pack.records) {
      const tMs = Math.round(record.relative ? madeAtMs + record.s * 1000 : record.s * 1000 - offsetMs);
      if (tMs > nowMs + aheadMs || tMs < nowMs - oldestMs) {
        const code = tMs > nowMs ? "time-too-far-ahead" : "time-too-old";
        const detail = `${record.channel} says ${timeText(tMs + offsetMs)}; the gateway's time is ${timeText(nowMs + offsetMs)}.`;
        emit(rejectionOf(pack, node, nowMs, code, detail, `${record.channel} ${record.value}`, record.index));
        continue;
      }
      out.push({
        kind: "reading",
        seq: pack.seq,
        node,
        channel: record.channel,
        unit: record.unit,
        value: record.value,
        tMs,
        receivedAtMs: pack.receivedAtMs,
        flag:
          clock && pack.upMs + (record.relative ? record.s * 1000 : 0) < bootSettleMs
            ? 3
            : record.relative && !clock
              ? 2
              : 1,
      });
    }
    out.sort(byTimeThenTemperature);
    for (const reading of out) emit(reading);
  }

  function release(node: string, state: NodeState, nowMs: number, emit: Emit<ReadingsOutcome>): void {
    const waiting = state.waiting;
    state.waiting = [];
    waitingNodes.delete(node);
    if (state.clock) state.clock.settled = true;
    for (const pack of waiting) emitPack(node, state.clock, pack, nowMs, emit);
  }

  function usable(
    records: readonly ResolvedRecord[],
    entry: MessageEntry,
    node: string,
    nowMs: number,
    emit: Emit<ReadingsOutcome>,
  ): WaitingRecord[] {
    const out: WaitingRecord[] = [];
    const names = nodes.get(node)?.names;
    for (const record of records) {
      const example = `${record.name.slice(0, 96)} ${String(record.value).slice(0, 100)}`;
      if (record.value === null) {
        const detail = `${record.name.slice(0, 96)} carries only a sum; a reading needs "v" or "vb".`;
        emit(rejectionOf(entry, node, nowMs, "value-missing", detail, example, record.index));
      } else if (typeof record.value === "string") {
        const code = record.isData ? "value-is-data" : "value-is-text";
        emit(
          rejectionOf(
            entry,
            node,
            nowMs,
            code,
            `${record.name.slice(0, 96)} carries ${record.isData ? "data" : "text"}, no number.`,
            example,
            record.index,
          ),
        );
      } else if (record.name.includes("/") || record.name.length > 128) {
        emit(
          rejectionOf(
            entry,
            node,
            nowMs,
            "name-not-allowed",
            "A channel's name has no / and at most 128 signs.",
            example,
            record.index,
          ),
        );
      } else if (names?.take(record.name, nowMs) === false) {
        const detail = `${record.name.slice(0, 96)} is one more than the 256 channels that a node may have.`;
        emit(rejectionOf(entry, node, nowMs, "channels-too-many", detail, example, record.index));
      } else {
        out.push({
          channel: `${node}/${record.name}`,
          unit: record.unit,
          value: Number(record.value),
          relative: record.time.relative,
          s: record.time.s,
          index: record.index,
        });
      }
    }
    return out;
  }

  function takeTimed(
    node: string,
    state: NodeState,
    boot: number,
    pack: WaitingPack,
    seen: TakenPack,
    nowMs: number,
    emit: Emit<ReadingsOutcome>,
  ): void {
    if (state.boot !== boot && !seen.newBoot) {
      // A late pack of an earlier boot: its clock is gone, so its arrival time is all there is.
      emitPack(node, null, pack, nowMs, emit);
      return;
    }
    if (state.boot !== boot || state.clock === null || begunAnew(state.clock, pack.upMs, seen.later)) {
      release(node, state, nowMs, emit);
      state.boot = boot;
      state.clock = firstClock(pack.receivedAtMs, pack.upMs);
    } else observe(state.clock, pack.receivedAtMs, pack.upMs);
    if (state.clock.settled && state.waiting.length === 0) emitPack(node, state.clock, pack, nowMs, emit);
    else {
      state.waiting.push(pack);
      waitingNodes.add(node);
      if (state.clock.settled || state.waiting.length >= mostWaiting) release(node, state, nowMs, emit);
    }
  }

  function takePack(entry: MessageEntry, node: string, nowMs: number, emit: Emit<ReadingsOutcome>): void {
    const decoded = decodePack(entry.payload);
    const refuse = (code: RejectionCode, detail: string, record: number | null = null): void => {
      emit(rejectionOf(entry, node, nowMs, code, detail, exampleOf(entry.payload), record));
    };
    if (!decoded.ok) {
      refuse(decoded.refusal.code, decoded.refusal.message);
      return;
    }
    const { records, refusals, labels } = resolvePack(decoded.records);
    const read = readLabels(labels);
    if (!read.ok) {
      refuse(read.code, read.message);
      return;
    }
    const state = nodeState(node);
    if (!state) {
      refuse("nodes-too-many", `${mostNodes} nodes are followed already.`);
      return;
    }
    const seen = seenOf(state, read.labels, entry.payload);
    const repeat = seen.seen === "repeat";
    if (!repeat) for (const refusal of refusals) refuse(refusal.code, refusal.message, refusal.record);
    const upMs = read.labels.up === null ? null : read.labels.up * 1000;
    const pack: WaitingPack = {
      seq: entry.seq,
      topic: entry.topic,
      receivedAtMs: entry.receivedAt,
      upMs: upMs ?? 0,
      records: repeat ? [] : usable(records, entry, node, nowMs, emit),
    };
    state.lastPackMs = nowMs;
    // The pack itself comes out before its readings: a new boot must be known when they are judged.
    const outcomes: ReadingsOutcome[] = [];
    const later = (outcome: ReadingsOutcome): void => {
      outcomes.push(outcome);
    };
    if (!repeat) {
      if (upMs === null || read.labels.boot === null) emitPack(node, null, pack, nowMs, later);
      else takeTimed(node, state, read.labels.boot, pack, seen, nowMs, later);
    }
    emit({
      kind: "pack",
      seq: entry.seq,
      node,
      receivedAtMs: entry.receivedAt,
      boot: read.labels.boot,
      packSeq: read.labels.seq,
      records: pack.records.length,
      repeat,
      gap: seen.gap,
      bootReused: seen.seen === "boot-reused",
      offsetMs: state.clock && state.boot === read.labels.boot ? state.clock.offsetMs : null,
      newBoot: seen.newBoot,
    });
    for (const outcome of outcomes) emit(outcome);
  }

  function takePresence(entry: MessageEntry, node: string, nowMs: number, emit: Emit<ReadingsOutcome>): void {
    if (entry.payload.length === 0) return; // A retained presence that is being cleared.
    const parsed = parsePresence(entry.payload);
    if (!parsed.ok) {
      emit(rejectionOf(entry, node, nowMs, parsed.code, parsed.message, exampleOf(entry.payload), null));
      return;
    }
    const said = parsed.presence;
    const state = nodeState(node);
    if (!state) {
      const detail = `${mostNodes} nodes are followed already.`;
      emit(rejectionOf(entry, node, nowMs, "nodes-too-many", detail, exampleOf(entry.payload), null));
      return;
    }
    if (said.state === "offline" && said.boot !== null && state.boot !== null && said.boot !== state.boot)
      return; // A late will.
    const online = said.state === "online" ? said : null;
    emit({
      kind: "presence",
      seq: entry.seq,
      node,
      online: online !== null,
      boot: said.boot,
      firmware: online?.firmware ?? null,
      protocol: online?.protocol ?? null,
      periodMs: online?.periodS ? online.periodS * 1000 : null,
      channels: online?.channels ?? [],
      atMs: nowMs,
    });
  }

  return {
    /** The site whose topics are taken; others are refused by name. */
    useSite(name: string): void {
      site = name;
    },
    /** By how much the calendar is ahead of engine time from now on, ms: absolute times of nodes are calendar times. */
    useOffset(ms: number): void {
      offsetMs = ms;
    },
    /** Topics of other protocols that the line maps onto channels. */
    useForeign(topics: readonly ForeignTopic[]): void {
      foreign = Map.groupBy(topics, ({ topic }) => topic);
    },
    push(entry: MessageEntry, nowMs: number, emit: Emit<ReadingsOutcome>): void {
      const mapped = foreign.get(entry.topic);
      if (mapped) {
        takeForeign(mapped, entry, nowMs, emit);
        return;
      }
      const topic = parseTopic(entry.topic);
      if (!topic.ok) {
        emit(rejectionOf(entry, null, nowMs, topic.code, topic.message, exampleOf(entry.payload), null));
        return;
      }
      if (site !== null && topic.site !== site) {
        emit(
          rejectionOf(
            entry,
            topic.node,
            nowMs,
            "site-unknown",
            `The topic names ${topic.site}; this gateway's site is ${site}.`,
            exampleOf(entry.payload),
            null,
          ),
        );
        return;
      }
      if (topic.kind === "readings") takePack(entry, topic.node, nowMs, emit);
      else if (topic.kind === "presence") takePresence(entry, topic.node, nowMs, emit);
    },
    nextDeadline(): number | null {
      let least: number | null = null;
      for (const node of waitingNodes) {
        const deadline = (nodes.get(node) as NodeState).lastPackMs + settleSilenceMs;
        if (least === null || deadline < least) least = deadline;
      }
      return least;
    },
    pass(nowMs: number, emit: Emit<ReadingsOutcome>): void {
      for (const node of [...waitingNodes]) {
        const state = nodes.get(node) as NodeState;
        changedNodes.add(node);
        if (nowMs >= state.lastPackMs + settleSilenceMs) release(node, state, nowMs, emit);
      }
    },
    /**
     * What changed since the last call: a row for each node (`node NAME`) and for each page of its remembered packs
     * (`seen NAME BOOT PAGE`), as plain data that goes on living: whoever keeps it copies it at once.
     */
    *dirty(): Iterable<StateRow> {
      for (const node of changedNodes) {
        const { seen, boot, clock, waiting, lastPackMs, names } = nodes.get(node) as NodeState;
        for (const [ofBoot, page, packs] of seen.changedPages())
          yield [`seen ${node} ${ofBoot} ${page}`, packs ?? undefined];
        const saved = { seen: seen.heads(), boot, clock, waiting, lastPackMs, names: names.saved() };
        yield [`node ${node}`, saved satisfies SavedNode];
      }
      changedNodes.clear();
    },
    /** Goes on with what was remembered of a node. */
    restore(node: string, seen: SeenPacks, saved: Omit<SavedNode, "seen">): void {
      const { boot, clock, waiting, lastPackMs } = saved;
      nodes.set(node, {
        seen,
        boot,
        clock: clock ? { ...clock } : null,
        waiting: [...waiting],
        lastPackMs,
        names: new ChannelNames(saved.names),
      });
      if (waiting.length > 0) waitingNodes.add(node);
    },
  };
}

/** Farthest time that a Date holds, ms from 1970 either way (ECMA-262, time values). */
const farthestMs = 8.64e15;

function timeText(tMs: number): string {
  return Math.abs(tMs) <= farthestMs ? new Date(tMs).toISOString() : `${tMs} ms, which is no date`;
}

function seenOf(state: NodeState, labels: PackLabels, payload: Uint8Array): TakenPack {
  if (labels.boot === null || labels.seq === null) {
    return { seen: "new", gap: 0, newBoot: labels.boot !== null && state.boot !== labels.boot, later: false };
  }
  return state.seen.take(labels.boot, labels.seq, hashOf(payload));
}
