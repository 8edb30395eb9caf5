import { PackForms, type PackLabels } from "@drumlin/firmware-protocol";
import type { StateRow } from "../path/index.ts";
import { Burst, type PlacedPack } from "./burst.ts";
import { ChannelNames } from "./channel-names.ts";
import {
  type BootClock,
  begunAnew,
  firstClock,
  mayHaveLeapt,
  observe,
  offsetAsItStands,
} from "./node-time.ts";
import { hashOf, SeenPacks, type TakenPack } from "./repeats.ts";
import type { HeldWill, SavedNode } from "./saved-node.ts";
import { sizeOf, type WaitingPack } from "./waiting-pack.ts";

/** A boot that falls silent before its clock settled is taken as it stands after this long. */
const settleSilenceMs = 30_000;
/** … and after this long where the gateway's time may have leapt: by then nothing of it tells of now, whichever it was. */
const leaptSilenceMs = 10 * 60_000;
/** A clock that settles gives so many of the packs that waited for it at once, and more after so long: others have their turn. */
const maxAtOnce = 500;
const againMs = 200;
/** Clocks of earlier boots that are remembered: what such a boot had kept may come after the next one began. */
const maxClocks = 8;
/** Times at which packs were made that are remembered, so that two packs never share a millisecond. */
const maxMadeTimes = 32;

/** A node that connected twice and lost one of the two is taken as gone after so long without a pack, or 3 periods. */
const minWillSilenceMs = 10_000;
const willPeriods = 3;

const sooner = (aMs: number | null, bMs: number | null): number | null =>
  aMs === null || bMs === null ? (aMs ?? bMs) : Math.min(aMs, bMs);

/** A pack whose time is known: `clock` null where it is only its arrival, or a period counted back from it. */
export interface TimedPack extends PlacedPack {
  /** Time since the boot's start, ms; null where the node tells none. */
  readonly upMs: number | null;
}

/** The packs of one node: repeats, the clocks of its boots, and what waits until its time is known. */
export class NodePacks {
  readonly names: ChannelNames;
  /** How it writes its packs. Nothing of it is kept: it is found again at its next pack. */
  readonly forms = new PackForms();
  boot: number | null = null;
  clock: BootClock | null = null;
  periodMs: number | null = null;
  private readonly seen: SeenPacks;
  private clocks: [boot: number, clock: BootClock][] = [];
  private waiting: WaitingPack[] = [];
  private timedBytes = 0;
  private burst: Burst;
  private lastPackMs = 0;
  /** When some of what waited for a clock that has settled was given, and more is to be; null: nothing is. */
  private givenMs: number | null = null;
  /** Boot that is announced as online; whether it was announced again, by a second connection, with no will between. */
  private onlineBoot: number | null = null;
  private isTwice = false;
  private will: HeldWill | null = null;
  /** How often it started again under a boot number that it had before. */
  private startsAgain = 0;
  private madeTimes: number[];
  /** Rows of waiting packs that are in the checkpoint, or to be put there or taken away. */
  private readonly changedRows = new Map<number, WaitingPack | undefined>();

  constructor(saved: SavedNode | null = null, seen = new SeenPacks(), waiting: readonly WaitingPack[] = []) {
    this.seen = seen;
    this.names = new ChannelNames(saved?.names);
    const timed = [...(saved?.waiting ?? []), ...waiting];
    this.burst = new Burst(
      saved?.burst ?? null,
      timed.filter(({ upMs }) => upMs === null),
    );
    this.madeTimes = [...(saved?.madeTimes ?? [])];
    if (!saved) return;
    this.boot = saved.boot;
    this.clock = saved.clock && { ...saved.clock };
    this.clocks = (saved.clocks ?? []).map(([boot, clock]) => [boot, { ...clock }]);
    this.waiting = timed.filter(({ upMs }) => upMs !== null);
    for (const pack of this.waiting) this.timedBytes += sizeOf(pack);
    this.lastPackMs = saved.lastPackMs;
    this.periodMs = saved.periodMs ?? null;
    this.onlineBoot = saved.onlineBoot ?? null;
    this.isTwice = saved.isTwice ?? false;
    this.will = saved.will ?? null;
    this.startsAgain = saved.startsAgain ?? 0;
    this.givenMs = saved.givenMs ?? null;
  }

  /** The node announced itself; with another period it does so as it was asked for that, on the connection that it has. */
  cameOnline(boot: number | null, periodS: number | null): void {
    const wasMs = this.periodMs;
    this.periodMs = periodS === null ? wasMs : periodS * 1000;
    this.isTwice = boot !== null && this.onlineBoot === boot && (this.isTwice || wasMs === this.periodMs);
    this.onlineBoot = boot;
    this.will = null;
  }

  /** Takes a will of this boot; true: the node is gone. False: another connection of it may live, and silence tells. */
  wentOffline(seq: number, boot: number | null, nowMs: number): boolean {
    if (this.isTwice) {
      this.isTwice = false;
      const silenceMs = Math.max(minWillSilenceMs, willPeriods * (this.periodMs ?? 0));
      this.will = { seq, boot, dueMs: nowMs + silenceMs };
      return false;
    }
    this.onlineBoot = null;
    this.will = null;
    return true;
  }

  /** The will that silence has proved right; given once. */
  provedWill(nowMs: number): HeldWill | null {
    const { will } = this;
    if (!will || nowMs < will.dueMs) return null;
    this.will = null;
    this.onlineBoot = null;
    return will;
  }

  /** The gateway's time may have leapt: what the clock said before is looked at anew. */
  doubtClock(): void {
    if (this.clock) this.clock.doubt = { stretch: null };
  }

  /** Whether a pack came before, by its numbers and bytes. */
  seenBefore(labels: PackLabels, payload: Uint8Array): TakenPack {
    const { boot, seq } = labels;
    if (boot === null || seq === null)
      return { seen: "new", gap: 0, newBoot: boot !== null && this.boot !== boot, later: false };
    return this.seen.take(boot, seq, hashOf(payload));
  }

  /** A pack was heard at `nowMs`, a repeat too. */
  heard(nowMs: number): void {
    this.lastPackMs = nowMs;
    this.will = null;
  }

  /** Takes a pack without `up` or without `boot`; gives the packs whose time is now known. */
  takeUntimed(pack: WaitingPack): readonly TimedPack[] {
    const placed = this.burst.take(pack, this.periodMs);
    if (placed.length === 0) this.keepRow(pack);
    return this.untimed(placed, pack);
  }

  /** Takes a pack with `up`; gives the packs whose time is now known. */
  takeTimed(boot: number, given: WaitingPack & { readonly upMs: number }, seen: TakenPack): TimedPack[] {
    if (this.boot !== boot && !seen.newBoot) return [this.ofEarlierBoot(boot, given)];
    const pack = { ...given, start: this.startOf(boot, given, seen) };
    const out: TimedPack[] = [];
    if (this.boot !== boot || this.clock === null || begunAnew(this.clock, pack.upMs, seen.later)) {
      out.push(...this.settle(this.lastPackMs, Number.POSITIVE_INFINITY));
      this.beginBoot(boot, firstClock(pack.receivedAtMs, pack.upMs));
    } else observe(this.clock, pack.receivedAtMs, pack.upMs);
    const clock = this.clock as BootClock;
    // While it looks as if the gateway's time had leapt, nobody knows yet whether a pack is of now or late by all of that.
    const isSure = clock.settled && !clock.doubt?.stretch;
    if (isSure && this.waiting.length === 0) return [...out, this.timed(pack, clock.offsetMs)];
    this.waiting.push(pack);
    this.timedBytes += sizeOf(pack);
    this.keepRow(pack);
    if (isSure) out.push(...this.settle(this.lastPackMs));
    return out;
  }

  /** Takes the clock as it stands; gives the first of what waited for it, in the order in which it came, at `nowMs`. */
  private settle(nowMs: number, most = maxAtOnce): TimedPack[] {
    const { clock } = this;
    if (!clock) return [];
    clock.settled = true;
    const offsetMs = offsetAsItStands(clock);
    const first = this.waiting.splice(0, most);
    this.givenMs = this.waiting.length > 0 ? nowMs : null;
    for (const pack of first) {
      this.timedBytes -= sizeOf(pack);
      this.dropRow(pack);
    }
    return first.map((pack) => this.timed(pack, offsetMs));
  }

  /** When something that waits has to be given, engine time; null while nothing waits. */
  dueMs(): number | null {
    return sooner(sooner(this.settleMs(), this.burst.dueMs()), this.will?.dueMs ?? null);
  }

  /** Gives what is due. */
  due(nowMs: number): readonly TimedPack[] {
    const out: TimedPack[] = [];
    const settleMs = this.settleMs();
    if (settleMs !== null && nowMs >= settleMs) out.push(...this.settle(nowMs));
    const burstMs = this.burst.dueMs();
    if (burstMs !== null && nowMs >= burstMs) out.push(...this.untimed(this.burst.release(this.periodMs)));
    return out;
  }

  /** Begins to give what waits, whatever is known of its time by now. */
  release(nowMs: number): readonly TimedPack[] {
    return [...this.settle(nowMs), ...this.untimed(this.burst.release(this.periodMs))];
  }

  /** About what its waiting packs take in memory, bytes. */
  get waitingBytes(): number {
    return this.timedBytes + this.burst.waitingBytes;
  }

  /** Rows that changed since the last call. */
  *dirty(node: string): Iterable<StateRow> {
    for (const [boot, page, packs] of this.seen.changedPages())
      yield [`seen ${node} ${boot} ${page}`, packs ?? undefined];
    for (const [seq, pack] of this.changedRows) yield [`wait ${node} ${seq}`, pack];
    this.changedRows.clear();
    const { boot, clock, clocks, lastPackMs, periodMs, madeTimes, onlineBoot, isTwice, will } = this;
    const { startsAgain, givenMs } = this;
    yield [
      `node ${node}`,
      {
        seen: this.seen.heads(),
        boot,
        clock,
        clocks,
        lastPackMs,
        periodMs,
        madeTimes,
        onlineBoot,
        isTwice,
        will,
        startsAgain,
        givenMs,
        names: this.names.saved(),
        burst: this.burst.saved(),
      } satisfies SavedNode,
    ];
  }

  /** When more of what waits for a clock has to be given, engine time; null while nothing waits. */
  private settleMs(): number | null {
    if (this.waiting.length === 0) return null;
    if (this.givenMs !== null) return this.givenMs + againMs;
    const mayLeap = this.clock !== null && mayHaveLeapt(this.clock);
    return this.lastPackMs + (mayLeap ? leaptSilenceMs : settleSilenceMs);
  }

  private beginBoot(boot: number, clock: BootClock): void {
    if (this.boot !== null && this.clock && this.boot !== boot)
      this.clocks = [
        ...this.clocks.filter(([known]) => known !== this.boot),
        [this.boot, this.clock] as [number, BootClock],
      ].slice(-maxClocks);
    this.boot = boot;
    this.clock = clock;
  }

  /** A late pack of an earlier boot: by that boot's clock, else by its arrival. */
  private ofEarlierBoot(boot: number, pack: WaitingPack & { readonly upMs: number }): TimedPack {
    const clock = this.clocks.find(([known]) => known === boot)?.[1];
    if (clock) return this.timed(pack, clock.offsetMs);
    return { pack, upMs: null, madeAtMs: this.freeMs(pack.receivedAtMs) };
  }

  /** Tells a node's starts apart, also those under one boot number: whoever counts since its start counted anew then. */
  private startOf(boot: number, { upMs, packSeq }: WaitingPack & { readonly upMs: number }, seen: TakenPack) {
    const { clock } = this;
    // Made after what came before, and yet with less time since its start; or under numbers that were used.
    const fellBack = (seen.later || packSeq == null) && clock !== null && upMs <= clock.latestUpMs;
    if (this.boot === boot && (fellBack || seen.seen === "boot-reused")) this.startsAgain += 1;
    return boot + 2 ** 32 * (this.startsAgain % 2 ** 20);
  }

  private timed(pack: WaitingPack, offsetMs: number): TimedPack {
    const upMs = pack.upMs ?? 0;
    return { pack, upMs, madeAtMs: this.freeMs(upMs + offsetMs) };
  }

  /** `came`: one that has just come, and has no row that must go. */
  private untimed(placed: readonly PlacedPack[], came: WaitingPack | null = null): readonly TimedPack[] {
    for (const { pack } of placed) if (pack !== came) this.dropRow(pack);
    return placed.map(({ pack, madeAtMs }) => ({ pack, upMs: null, madeAtMs }));
  }

  /** The next millisecond at which no other of the last packs was made. */
  private freeMs(madeAtMs: number): number {
    let atMs = Math.round(madeAtMs);
    while (this.madeTimes.includes(atMs)) atMs += 1;
    this.madeTimes.push(atMs);
    if (this.madeTimes.length > maxMadeTimes) this.madeTimes.shift();
    return atMs;
  }

  private keepRow(pack: WaitingPack): void {
    this.changedRows.set(pack.seq, pack);
  }

  private dropRow({ seq }: WaitingPack): void {
    this.changedRows.set(seq, undefined);
  }
}
