import {
  decodePack,
  type ParsedTopic,
  type Presence,
  parsePresence,
  parseTopic,
  readLabels,
  readPlainPack,
  resolvePack,
} from "@drumlin/firmware-protocol";
import type { StateRow } from "../path/index.ts";
import type { MessageEntry } from "./entry.ts";
import { type ForeignTopic, takeForeign } from "./foreign.ts";
import { clockAheadMs, datedAheadMs, isOfPast } from "./node-clock-ahead.ts";
import { NodePacks, type TimedPack } from "./node-packs.ts";
import { type Taking, tellPack, usableRecords } from "./pack-readings.ts";
import type { NodePresence, PackTaken, Reading } from "./reading.ts";
import { type Rejection, type RejectionCode, refusedMessage } from "./rejection.ts";
import type { WholeNode } from "./saved-node.ts";
import type { Emit } from "./stage.ts";
import type { WaitingPack } from "./waiting-pack.ts";

const maxNodes = 1000;
/** All packs that wait for their time; above it those that wait most are taken as their clocks stand, down to so much of it. */
const waitingLimitBytes = 64 * 1024 * 1024;
const keptShare = 7 / 8;

/** The whole state as an earlier version kept it. */
export interface ReadingsState {
  readonly nodes: Readonly<Record<string, WholeNode>>;
}

/** What comes out of this stage. */
export type ReadingsOutcome = Reading | NodePresence | PackTaken | Rejection;
type Tell = Emit<ReadingsOutcome>;
type OnlineSaid = Extract<Presence, { state: "online" }>;

type TimedWaitingPack = WaitingPack & { readonly upMs: number };
const isTimed = (pack: WaitingPack): pack is TimedWaitingPack => pack.upMs !== null;

/** A presence; `online` null: the node is gone. */
function presenceOf(
  { seq, node, atMs }: Pick<NodePresence, "seq" | "node" | "atMs">,
  boot: number | null,
  online: OnlineSaid | null,
): NodePresence {
  return {
    kind: "presence",
    seq,
    node,
    online: online !== null,
    boot,
    firmware: online?.firmware ?? null,
    protocol: online?.protocol ?? null,
    periodMs: online?.periodS ? online.periodS * 1000 : null,
    channels: online?.channels ?? [],
    ...(online?.requests ? { requests: online.requests } : {}),
    atMs,
  };
}

/**
 * Bytes to readings: topic, SenML, labels, node time, repeats. What can't be taken comes out as a rejection with its
 * name and spoils nothing else. Records of one pack come out by time, temperatures first, then by channel name.
 */
export class Readings {
  private site: string | null = null;
  private offsetMs = 0;
  private foreign = new Map<string, ForeignTopic[]>();
  private readonly nodes = new Map<string, NodePacks>();
  /** Topics that were taken apart: they come again and again. */
  private readonly topics = new Map<string, ParsedTopic>();
  /** Nodes of which something waits, with its bytes. */
  private readonly waitingNodes = new Map<string, number>();
  private waitingBytes = 0;
  private readonly maxWaitingBytes: number;
  private readonly changedNodes = new Set<string>();

  /** `maxWaitingBytes`: about what all packs that wait for their time may take in memory. */
  constructor(maxWaitingBytes = waitingLimitBytes) {
    this.maxWaitingBytes = maxWaitingBytes;
  }

  /** The site whose topics are taken; others are refused by name. */
  useSite(name: string): void {
    this.site = name;
  }

  /** By how much the calendar is ahead of engine time from now on, ms: absolute times of nodes are calendar times. */
  useOffset(ms: number): void {
    this.offsetMs = ms;
  }

  /** The gateway started with a time that may have leapt since its last entry. */
  doubtClocks(): void {
    for (const [node, packs] of this.nodes) {
      packs.doubtClock();
      this.changedNodes.add(node);
    }
  }

  /** Topics of other protocols that the line maps onto channels. */
  useForeign(topics: readonly ForeignTopic[]): void {
    this.foreign = Map.groupBy(topics, ({ topic }) => topic);
  }

  push(entry: MessageEntry, nowMs: number, emit: Tell): void {
    const mapped = this.foreign.get(entry.topic);
    if (mapped) {
      takeForeign(mapped, entry, nowMs, emit);
      return;
    }
    const topic = this.parsed(entry.topic);
    const refuse = (node: string | null, code: RejectionCode, detail: string) =>
      emit(refusedMessage(entry, { node, atMs: nowMs, code, detail, record: null }));
    if (!topic.ok) refuse(null, topic.code, topic.message);
    else if (this.site !== null && topic.site !== this.site)
      refuse(
        topic.node,
        "site-unknown",
        `The topic names ${topic.site}; this gateway's site is ${this.site}.`,
      );
    else if (topic.kind === "readings")
      this.takePack(entry, { node: topic.node, nowMs, offsetMs: this.offsetMs }, emit);
    else if (topic.kind === "presence") this.takePresence(entry, topic.node, nowMs, emit);
  }

  private parsed(topic: string): ParsedTopic {
    let parsed = this.topics.get(topic);
    if (!parsed) {
      parsed = parseTopic(topic);
      if (!parsed.ok) return parsed;
      if (this.topics.size >= 2 * maxNodes) this.topics.clear();
      this.topics.set(topic, parsed);
    }
    return parsed;
  }

  /** The earliest engine time at which something that waits is due; null for never. */
  nextDeadline(): number | null {
    let least: number | null = null;
    for (const node of this.waitingNodes.keys()) {
      const dueMs = this.nodes.get(node)?.dueMs() ?? null;
      if (dueMs !== null && (least === null || dueMs < least)) least = dueMs;
    }
    return least;
  }

  /** Gives what is due at `nowMs`. */
  pass(nowMs: number, emit: Tell): void {
    for (const node of [...this.waitingNodes.keys()]) {
      const packs = this.nodes.get(node) as NodePacks;
      this.tellAll(packs.due(nowMs), { node, nowMs, offsetMs: this.offsetMs }, emit);
      const will = packs.provedWill(nowMs);
      if (will) emit(presenceOf({ seq: will.seq, node, atMs: nowMs }, will.boot, null));
      this.changedNodes.add(node);
      this.mark(node, packs);
    }
  }

  /**
   * What changed since the last call: a row for each node (`node NAME`), each page of its remembered packs
   * (`seen NAME BOOT PAGE`) and each pack that waits (`wait NAME SEQ`), as plain data that goes on living: whoever keeps
   * it copies it at once.
   */
  *dirty(): Iterable<StateRow> {
    for (const node of this.changedNodes) yield* (this.nodes.get(node) as NodePacks).dirty(node);
    this.changedNodes.clear();
  }

  /** Goes on with what was remembered of a node. */
  restore(node: string, packs: NodePacks): void {
    this.nodes.set(node, packs);
    this.mark(node, packs);
  }

  private mark(node: string, packs: NodePacks): void {
    this.waitingBytes += packs.waitingBytes - (this.waitingNodes.get(node) ?? 0);
    if (packs.dueMs() === null) this.waitingNodes.delete(node);
    else this.waitingNodes.set(node, packs.waitingBytes);
  }

  private packsOf(node: string): NodePacks | null {
    let packs = this.nodes.get(node);
    if (!packs) {
      if (this.nodes.size >= maxNodes) return null;
      packs = new NodePacks();
      this.nodes.set(node, packs);
    }
    this.changedNodes.add(node);
    return packs;
  }

  private tellAll(timed: readonly TimedPack[], taking: Taking, emit: Tell): void {
    for (const one of timed) tellPack(one, taking, emit);
  }

  private takePack(entry: MessageEntry, taking: Taking, emit: Tell): void {
    const { node, nowMs } = taking;
    const refuse = (code: RejectionCode, detail: string, record: number | null = null): void =>
      emit(refusedMessage(entry, { node, atMs: nowMs, code, detail, record }));
    let resolved = readPlainPack(entry.payload, this.nodes.get(node)?.forms);
    if (resolved === null) {
      const decoded = decodePack(entry.payload);
      if (!decoded.ok) {
        refuse(decoded.refusal.code, decoded.refusal.message);
        return;
      }
      resolved = resolvePack(decoded.records);
    }
    const { records, refusals, labels } = resolved;
    const read = readLabels(labels);
    if (!read.ok) {
      refuse(read.code, read.message);
      return;
    }
    const packs = this.packsOf(node);
    if (!packs) {
      refuse("nodes-too-many", `${maxNodes} nodes are followed already.`);
      return;
    }
    const { boot, seq: packSeq, up } = read.labels;
    const seen = packs.seenBefore(read.labels, entry.payload);
    const repeat = seen.seen === "repeat";
    if (!repeat) for (const refusal of refusals) refuse(refusal.code, refusal.message, refusal.record);
    const upMs = up === null || boot === null ? null : up * 1000;
    const pack = {
      seq: entry.seq,
      topic: entry.topic,
      receivedAtMs: entry.receivedAt,
      upMs,
      packSeq,
      records: repeat ? [] : usableRecords(records, { entry, packs, emit }, taking),
    };
    packs.heard(nowMs);
    const timed = repeat
      ? []
      : boot === null || !isTimed(pack)
        ? packs.takeUntimed(pack)
        : packs.takeTimed(boot, pack, seen);
    const dated = datedAheadMs(records, pack, taking);
    // The pack itself comes out before its readings: a new boot must be known when they are judged.
    emit({
      kind: "pack",
      seq: entry.seq,
      node,
      receivedAtMs: entry.receivedAt,
      boot,
      packSeq,
      records: pack.records.length,
      repeat,
      gap: seen.gap,
      bootReused: seen.seen === "boot-reused",
      offsetMs: packs.clock && packs.boot === boot ? packs.clock.offsetMs : null,
      newBoot: seen.newBoot,
      datedAheadMs: dated,
      isOfPast: !repeat && isOfPast(pack, timed),
      clockAheadMs: repeat ? null : clockAheadMs(dated, pack, packs),
    });
    this.tellAll(timed, taking, emit);
    this.mark(node, packs);
    if (this.waitingBytes > this.maxWaitingBytes) this.keepBound(nowMs, emit);
  }

  /** Above the bound the nodes that wait most are taken as their clocks stand. */
  private keepBound(nowMs: number, emit: Tell): void {
    const most = [...this.waitingNodes].sort(([, a], [, b]) => b - a);
    for (const [node] of most) {
      if (this.waitingBytes <= this.maxWaitingBytes * keptShare) return;
      const packs = this.nodes.get(node) as NodePacks;
      this.tellAll(packs.release(nowMs), { node, nowMs, offsetMs: this.offsetMs }, emit);
      this.changedNodes.add(node);
      this.mark(node, packs);
    }
  }

  private takePresence(entry: MessageEntry, node: string, nowMs: number, emit: Tell): void {
    if (entry.payload.length === 0) return; // A retained presence that is being cleared.
    const refuse = (code: RejectionCode, detail: string) =>
      emit(refusedMessage(entry, { node, atMs: nowMs, code, detail, record: null }));
    const parsed = parsePresence(entry.payload);
    if (!parsed.ok) {
      refuse(parsed.code, parsed.message);
      return;
    }
    const said = parsed.presence;
    const packs = this.packsOf(node);
    if (!packs) {
      refuse("nodes-too-many", `${maxNodes} nodes are followed already.`);
      return;
    }
    if (said.state === "offline" && said.boot !== null && packs.boot !== null && said.boot !== packs.boot)
      return; // A late will.
    const online = said.state === "online" ? said : null;
    if (online) packs.cameOnline(said.boot, online.periodS);
    if (online || packs.wentOffline(entry.seq, said.boot, nowMs))
      emit(presenceOf({ seq: entry.seq, node, atMs: nowMs }, said.boot, online));
    this.mark(node, packs);
  }
}
