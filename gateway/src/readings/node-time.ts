/** How fast a boot's offset may rise: 250 ppm of the time passed. Node clocks are within ± 100 ppm. */
const risePerMs = 250e-6;
/**
 * A fall of less than this in a stretch is jitter, not a backlog still coming in, by which the offset falls about as fast
 * as `up` goes on; `up` may be whole seconds.
 */
const jitterMs = 1000;
const jitterShareOfUp = 0.2;
/** So many packs, and so much time of the node, without a greater fall, and the offset is trusted. */
const packsToSettle = 4;
const upToSettleMs = 5000;

/** What is known of one boot's clock: `madeAt = up + offset`. Plain JSON. */
export interface BootClock {
  offsetMs: number;
  /** Engine time at which the offset was last brought forward. */
  atMs: number;
  settled: boolean;
  /** Greatest `up` of this clock so far, ms. */
  latestUpMs: number;
  /** The stretch in which packs arrived no faster than they were made. Missing in what an earlier version kept. */
  stretch?: Stretch | null | undefined;
  /** The stretch in which they did but for some that were later than others. Missing in what an earlier version kept. */
  wide?: Stretch;
  /** The gateway's time may have leapt since the offset was found: packs are looked at for a greater one. */
  doubt?: Doubt | undefined;
}

interface Doubt {
  stretch?: Stretch | null | undefined;
  wide?: Stretch;
  /** By the first pack that was looked at; absent before it, and in rows of versions before. */
  firstMs?: number;
}

interface Stretch {
  readonly offsetMs: number;
  readonly upMs: number;
  packs: number;
  /** The greatest offset in it so far; absent in rows of versions before. */
  mostMs?: number;
}

/** An offset that is too small by less than this is put right by its rise, or is a backlog's. */
const farMs = 10 * 60_000;
/** Packs whose offsets fell by more came faster than they were made: no live link delays them by so much. */
const backlogFallMs = 30_000;

function beginStretch(offsetMs: number, upMs: number): Stretch {
  return { offsetMs, upMs, packs: 1 };
}

/**
 * Takes one more pack into a stretch; false: it came so much faster than it was made that it had waited. A pause before it
 * is no such time: what waits on behind a broken connection comes as fast again afterwards.
 */
function goesOn(stretch: Stretch, candidate: number, upMs: number): boolean {
  const mostMs = Math.max(stretch.mostMs ?? stretch.offsetMs, candidate);
  if (candidate < mostMs - Math.max(jitterMs, jitterShareOfUp * (upMs - stretch.upMs))) return false;
  stretch.mostMs = mostMs;
  stretch.packs += 1;
  return true;
}

const isLong = ({ packs, upMs }: Stretch, nowUpMs: number) =>
  packs >= packsToSettle && nowUpMs - upMs >= upToSettleMs;

/**
 * A link may be late by turns for as long as it lives (two packs at once, each second one held up). The stretch goes on
 * while none is by much less late than its first, however late others are. True once it is five times as long as their lateness
 * differs: what a pause in a backlog makes late has fallen below the first by then.
 */
function isLateByTurns(of: BootClock | Doubt, candidate: number, upMs: number): boolean {
  const { wide } = of;
  const spanMs = wide ? upMs - wide.upMs : 0;
  if (!wide || candidate < wide.offsetMs - Math.max(jitterMs, jitterShareOfUp * spanMs)) {
    of.wide = beginStretch(candidate, upMs);
    return false;
  }
  wide.mostMs = Math.max(wide.mostMs ?? wide.offsetMs, candidate);
  wide.packs += 1;
  return isLong(wide, upMs) && jitterShareOfUp * spanMs >= wide.mostMs - wide.offsetMs;
}

/** Takes one more pack; gives the stretch that shows that packs come no faster than they are made, null: none does yet. */
function liveStretch(of: BootClock | Doubt, candidate: number, upMs: number): Stretch | null {
  const isTurning = isLateByTurns(of, candidate, upMs);
  const { stretch } = of;
  if (!stretch || !goesOn(stretch, candidate, upMs)) of.stretch = beginStretch(candidate, upMs);
  else if (isLong(stretch, upMs)) return stretch;
  return isTurning ? (of.wide ?? null) : null;
}

/**
 * After a start at which the gateway's time came from a machine's clock that may have been far ahead: a node that went on
 * meanwhile would be taken as late by that much for as long as it runs, since its offset rises so slowly. Where packs come
 * no faster than they are made and all of them would be late by more than 10 min, it is the gateway's time that leapt, and
 * the offset follows. A backlog comes faster, and ends at the offset that there was.
 */
function lookInDoubt(clock: BootClock, candidate: number, upMs: number): void {
  const { doubt } = clock;
  if (!doubt) return;
  if (candidate - clock.offsetMs < farMs) {
    clock.doubt = undefined;
    return;
  }
  doubt.firstMs ??= candidate;
  const live = liveStretch(doubt, candidate, upMs);
  if (!live) return;
  clock.offsetMs = live.offsetMs;
  clock.doubt = undefined;
}

/** It looks as if the gateway's time had leapt, and nobody knows yet; packs that come as a backlog does are one. */
export function mayHaveLeapt({ doubt }: BootClock): boolean {
  const stretch = doubt?.stretch;
  return !!stretch && (doubt?.firstMs ?? stretch.offsetMs) - stretch.offsetMs < backlogFallMs;
}

/**
 * The offset by which packs are taken that can wait no longer, ms. Where the gateway's time may have leapt they are as old as
 * their coming says: by the offset of before they would be late by all of the leap. For the packs after them that stays in doubt.
 */
export function offsetAsItStands(clock: BootClock): number {
  return mayHaveLeapt(clock) ? (clock.doubt?.stretch?.offsetMs ?? clock.offsetMs) : clock.offsetMs;
}

/** The clock of a boot at its first pack. */
export function firstClock(receivedAtMs: number, upMs: number): BootClock {
  const offsetMs = receivedAtMs - upMs;
  return {
    offsetMs,
    atMs: receivedAtMs,
    settled: false,
    latestUpMs: upMs,
    stretch: beginStretch(offsetMs, upMs),
    wide: beginStretch(offsetMs, upMs),
  };
}

/**
 * Takes one more pack of the boot into its clock: the offset falls at once to `receivedAt − up` when that is less,
 * and otherwise rises by at most 250 ppm of the time passed. Delay can only make a pack late, never early, so the
 * least difference is the truest. The clock has settled once packs came, for 5 s of the node's time and 4 of them,
 * no faster than they were made: while a backlog comes in, each pack lowers the offset by what it waited less.
 */
export function observe(clock: BootClock, receivedAtMs: number, upMs: number): void {
  const candidate = receivedAtMs - upMs;
  const risen = clock.offsetMs + Math.max(0, receivedAtMs - clock.atMs) * risePerMs;
  clock.offsetMs = Math.min(risen, candidate);
  clock.atMs = Math.max(clock.atMs, receivedAtMs);
  clock.latestUpMs = Math.max(clock.latestUpMs, upMs);
  lookInDoubt(clock, candidate, upMs);
  if (clock.settled) return;
  clock.settled = liveStretch(clock, candidate, upMs) !== null;
}

/** `up` that falls by more than this is another count of time, not a pack that was overtaken. */
const freshCountMs = 60_000;

/**
 * True when `up` has begun anew within a boot: a 32-bit count of milliseconds wraps after 49.7 days, and a node may
 * start again with a boot number that it had before. `later`: the pack was made after those before it, by its `seq`
 * or because its numbers stand with other bytes; only then is a small `up` no old pack that comes late.
 */
export function begunAnew(clock: BootClock, upMs: number, later: boolean): boolean {
  return later && upMs < clock.latestUpMs - freshCountMs;
}
