import type { StateRow } from "../path/index.ts";
import type { NodePresence } from "../readings/index.ts";
import type { Correction } from "./calibration.ts";
import type { Life } from "./proof-of-life.ts";
import type { Recent } from "./spikes.ts";
import type { TemperatureTrace } from "./temperatures.ts";

/** What nodes announce of their channels. */
export type Announced = NodePresence["channels"];

/** What is remembered of a channel of the line from one reading to the next. Plain JSON. */
export interface ChannelMemory {
  /** In the order of their `validFromMs`. */
  corrections: readonly Correction[];
  readonly temperatures: TemperatureTrace;
  life: Life | null;
  recent: Recent | null;
  /** The raw contact that means "wet", as a test of the float showed; missing where none did. */
  wetWhen?: boolean | undefined;
}

/** What is remembered of a node. Plain JSON. */
interface NodeMemory {
  announced: Announced;
  /** Channels that the line doesn't use, by their full names; the one heard longest ago first. */
  unassigned: readonly SavedChannel[];
}

/** A channel with the day, counted from time 0, on which it was heard last. */
type HeardChannel = readonly [channel: string, day: number];
/** Null where an earlier version did not keep the day. */
type SavedChannel = readonly [channel: string, day: number | null];
const dayMs = 86_400_000;

/** Whether an unassigned channel has a place, and the channel that gave its place up for it. */
export type TakenUnassigned = { readonly isTaken: boolean; readonly replaced: string | null };

interface Salinity {
  readonly now: number;
  readonly before: number | null;
}

/** Unassigned channels are kept up to this many a node. */
const maxUnassignedOfNode = 32;

/** Rows of version 1: everything in one. */
interface WholeMemory {
  readonly corrections: Entries<readonly Correction[]>;
  readonly temperatures: Entries<TemperatureTrace>;
  readonly announced: Entries<Announced>;
  readonly lives: Entries<Life>;
  readonly recent: Entries<Recent>;
  readonly unassigned: { readonly channels: Entries<readonly string[]>; readonly dropped: number };
}
type Entries<Value> = readonly (readonly [key: string, value: Value])[];

/**
 * Everything that this room remembers, a row for each channel and node. It holds channels of lines that were in force,
 * what nodes announce (as many as are followed, 64 channels each), and 32 unassigned channels a node.
 */
export class Memory {
  private readonly channels = new Map<string, ChannelMemory>();
  private readonly nodes = new Map<string, NodeMemory>();
  private droppedCount = 0;
  /** Practical salinity of what is in drums, and what it was before the drum was said to be empty. */
  private readonly salinities = new Map<string, Salinity>();
  private readonly changedDrums = new Set<string>();
  private readonly changedChannels = new Set<string>();
  private readonly changedNodes = new Set<string>();
  private isDroppedChanged = false;
  /** The channel that was asked for last, while it counts as changed: one reading asks for its channel again and again. */
  private lastName: string | null = null;
  private lastChannel: ChannelMemory | null = null;

  /** Of a channel that is about to remember something. */
  channel(name: string): ChannelMemory {
    if (name === this.lastName && this.lastChannel !== null) return this.lastChannel;
    this.changedChannels.add(name);
    let found = this.channels.get(name);
    if (!found) {
      found = { corrections: [], temperatures: [], life: null, recent: null };
      this.channels.set(name, found);
    }
    this.lastName = name;
    this.lastChannel = found;
    return found;
  }

  /** The calibrations of a channel, in the order of their `validFromMs`. */
  correctionsOf(channel: string): readonly Correction[] {
    return this.channels.get(channel)?.corrections ?? [];
  }

  /** The temperatures of a channel, oldest first; null where it never told one. */
  temperaturesOf(channel: string): TemperatureTrace | null {
    const trace = this.channels.get(channel)?.temperatures;
    return trace && trace.length > 0 ? trace : null;
  }

  /** The raw contact that means "wet", as a test showed; undefined where none did. */
  senseOf(channel: string): boolean | undefined {
    return this.channels.get(channel)?.wetWhen;
  }

  /** Practical salinity of what is in a drum, as far as it was said or measured; 0: fresh water. */
  salinityIn(drum: string): number {
    return this.salinities.get(drum)?.now ?? 0;
  }

  /** What is in a drum has this salinity from now on; `canUndo`: it can be taken back. */
  takeSalinity(drum: string, now: number, canUndo = false): void {
    const known = this.salinities.get(drum);
    if ((known?.now ?? 0) === now && known?.before == null && !canUndo) return;
    this.salinities.set(drum, { now, before: canUndo ? (known?.now ?? 0) : null });
    this.changedDrums.add(drum);
  }

  /** A drum was not emptied after all. */
  undoSalinity(drum: string): void {
    const before = this.salinities.get(drum)?.before;
    if (before != null) this.takeSalinity(drum, before);
  }

  /** What a node last announced; empty where it never did. */
  announcedBy(node: string): Announced {
    return this.nodes.get(node)?.announced ?? [];
  }

  announce(node: string, channels: Announced): void {
    this.node(node).announced = channels;
  }

  /**
   * Whether an unassigned channel is among the node's 32; one that was heard neither today nor yesterday gives its place up.
   * Readings of further ones are dropped and counted.
   */
  takeUnassigned(node: string, channel: string, tMs: number): TakenUnassigned {
    const today = Math.floor(tMs / dayMs);
    const saved = this.nodes.get(node)?.unassigned ?? [];
    const known = saved.map(([name, day]): HeardChannel => [name, day ?? today]);
    const own = known.find(([name]) => name === channel);
    if (own && own[1] >= today) return { isTaken: true, replaced: null };
    const [oldest] = known;
    const isFull = own === undefined && known.length >= maxUnassignedOfNode;
    const replaced = isFull && oldest && oldest[1] < today - 1 ? oldest[0] : null;
    if (isFull && replaced === null) {
      this.droppedCount += 1;
      this.isDroppedChanged = true;
      return { isTaken: false, replaced };
    }
    const left = known.filter(([name]) => name !== channel && name !== replaced);
    this.node(node).unassigned = [...left, [channel, today]];
    return { isTaken: true, replaced };
  }

  /** Forgets unassigned channels that now have a use: others can be taken in their stead. */
  forgetUnassigned(isUsed: (channel: string) => boolean): void {
    for (const [node, { unassigned }] of this.nodes) {
      const left = unassigned.filter(([channel]) => !isUsed(channel));
      if (left.length < unassigned.length) this.node(node).unassigned = left;
    }
  }

  /** Readings of unassigned channels beyond a node's 32. */
  get dropped(): number {
    return this.droppedCount;
  }

  /** Rows that changed since the last call. They go on living here: whoever keeps them copies them at once. */
  *dirty(): Iterable<StateRow> {
    for (const name of this.changedChannels) yield [`channel ${name}`, this.channels.get(name)];
    for (const name of this.changedNodes) yield [`node ${name}`, this.nodes.get(name)];
    if (this.isDroppedChanged) yield ["dropped", this.droppedCount];
    for (const drum of this.changedDrums) yield [`drum ${drum}`, this.salinities.get(drum)];
    this.changedDrums.clear();
    this.changedChannels.clear();
    this.lastName = null;
    this.changedNodes.clear();
    this.isDroppedChanged = false;
  }

  /** Goes on from rows of version 2, or of the one row of versions 0 and 1. */
  load(rows: ReadonlyMap<string, unknown>, fromVersion: number): void {
    this.lastName = null;
    if (fromVersion < 2) this.loadWhole(structuredClone(rows.get("all")) as WholeMemory | undefined);
    else
      for (const [key, plain] of rows) {
        const name = nameIn(key);
        if (key === "dropped") this.droppedCount = plain as number;
        else if (key.startsWith("drum ")) this.salinities.set(name, plain as Salinity);
        else if (key.startsWith("channel ")) this.channels.set(name, structuredClone(plain) as ChannelMemory);
        else {
          const node = structuredClone(plain) as NodeMemory;
          this.nodes.set(name, { ...node, unassigned: node.unassigned.map(heardOnce) });
        }
      }
  }

  private node(name: string): NodeMemory {
    this.changedNodes.add(name);
    let found = this.nodes.get(name);
    if (!found) {
      found = { announced: [], unassigned: [] };
      this.nodes.set(name, found);
    }
    return found;
  }

  private loadWhole(whole: WholeMemory | undefined): void {
    if (!whole) return;
    for (const [name, corrections] of whole.corrections) this.channel(name).corrections = corrections;
    for (const [name, trace] of whole.temperatures) this.channel(name).temperatures.push(...trace);
    for (const [name, life] of whole.lives) this.channel(name).life = life;
    for (const [name, recent] of whole.recent) this.channel(name).recent = recent;
    for (const [node, announced] of whole.announced) this.announce(node, announced);
    for (const [node, channels] of whole.unassigned.channels)
      this.node(node).unassigned = channels.map(heardOnce);
    this.droppedCount = whole.unassigned.dropped;
    this.isDroppedChanged = true;
  }
}

/** Of "channel press/ec-1": "press/ec-1". */
const nameIn = (key: string): string => key.slice(key.indexOf(" ") + 1);

/** An earlier version kept the channel alone. */
const heardOnce = (saved: string | SavedChannel): SavedChannel =>
  typeof saved === "string" ? [saved, null] : saved;
