/** Packs of a boot that are remembered, at most. A power of two. */
const maxPacks = 4096;
const fewestPacks = 64;
/** Packs of a node that are remembered, over all of its boots; 8 bytes each. */
const maxPacksOfNode = 2 * maxPacks;
/** Boots of a node that are remembered. */
const maxBoots = 8;

/**
 * What is remembered of one boot: pack `seq` lies at place `seq mod length`, its hash beside it, until a later one takes
 * the place. A place whose number does not belong there is free. Plain data, 8 bytes a pack.
 */
export interface SeenBoot {
  readonly boot: number;
  seqs: Uint32Array;
  hashes: Uint32Array;
  /** Greatest seq seen; gaps are counted above it. */
  last: number | null;
}

/** A boot without its packs, and how many places it has: what a checkpoint keeps beside the pages. */
export interface SeenBootHead {
  readonly boot: number;
  readonly length: number;
  readonly last: number | null;
}

/** A page of a boot's places that changed: numbers, then hashes, of at most 256 places; null: the boot is forgotten. */
export type SeenPage = readonly [boot: number, page: number, packs: Uint32Array | null];

/** Places of a page: 2 kB. */
const pageLength = 256;

/** What a pack is, against those seen before. */
type Seen = "new" | "repeat" | "boot-reused";

/** What is known of a pack once it was remembered. */
export interface TakenPack {
  readonly seen: Seen;
  /** Packs of this boot that are missing before it. */
  readonly gap: number;
  readonly newBoot: boolean;
  /** It was made after every pack of this boot that came before, or its numbers stand with other bytes. */
  readonly later: boolean;
}

/** FNV-1a over the bytes, 32 bit: tells the same pack from another one with the same numbers. */
export function hashOf(bytes: Uint8Array): number {
  let hash = 0x811c9dc5;
  for (let place = 0; place < bytes.length; place += 1) {
    hash ^= bytes[place] as number;
    hash = Math.imul(hash, 0x01000193);
  }
  return hash >>> 0;
}

function emptySeqs(length: number): Uint32Array {
  // Each place holds the number of its neighbour, which can't be there.
  return Uint32Array.from({ length }, (_, place) => (place + 1) % length);
}

function grow(known: SeenBoot): void {
  const { seqs, hashes } = known;
  const length = seqs.length * 2;
  const wider = emptySeqs(length);
  const widerHashes = new Uint32Array(length);
  for (const [place, seq] of seqs.entries()) {
    if (seq % seqs.length !== place) continue;
    wider[seq % length] = seq;
    widerHashes[seq % length] = hashes[place] as number;
  }
  known.seqs = wider;
  known.hashes = widerHashes;
}

/** Missing packs that one jump of `seq` may stand for: a day of one a second. A jump beyond is a count gone wrong. */
const maxGap = 86_400;

/** The packs of one node that came before, so that none is stored twice. Bounded: the last 4,096 of each of 8 boots, 8,192 in all. */
export class SeenPacks {
  private readonly boots: SeenBoot[];
  /** Pages that changed since they were last given: by boot. */
  private readonly changed = new Map<number, Set<number>>();
  private forgotten: { readonly boot: number; readonly length: number }[] = [];

  /** Goes on from heads and pages; a page that is missing holds nothing. */
  static of(heads: readonly SeenBootHead[], pageOf: (boot: number, page: number) => Uint32Array | undefined) {
    return new SeenPacks(
      heads.map(({ boot, length, last }) => {
        const seqs = emptySeqs(length);
        const hashes = new Uint32Array(length);
        for (let begin = 0; begin < length; begin += pageLength) {
          const packs = pageOf(boot, begin / pageLength);
          if (!packs) continue;
          seqs.set(packs.subarray(0, packs.length / 2), begin);
          hashes.set(packs.subarray(packs.length / 2), begin);
        }
        return { boot, seqs, hashes, last };
      }),
    );
  }

  constructor(boots: readonly SeenBoot[] = []) {
    this.boots = boots.map((boot) => ({
      ...boot,
      seqs: Uint32Array.from(boot.seqs),
      hashes: Uint32Array.from(boot.hashes),
    }));
  }

  /** Remembers a pack and tells whether it came before, and how many packs of this boot are missing before it. */
  take(boot: number, seq: number, hash: number): TakenPack {
    let known =
      this.boots.at(-1)?.boot === boot ? this.boots.at(-1) : this.boots.find((one) => one.boot === boot);
    const newBoot = known === undefined;
    if (known === undefined) {
      known = { boot, seqs: emptySeqs(fewestPacks), hashes: new Uint32Array(fewestPacks), last: null };
      this.boots.push(known);
      if (this.boots.length > maxBoots) this.forgetOldest();
    }
    const before = this.hashAt(known, seq);
    if (before === hash) return { seen: "repeat", gap: 0, newBoot, later: false };
    const jump = known.last !== null && seq > known.last + 1 ? seq - known.last - 1 : 0;
    const gap = Math.min(jump, maxGap);
    const later = known.last === null || seq > known.last;
    // An older pack than are remembered must not drive out a newer one.
    if (later || before !== null || seq > (known.last as number) - maxPacks) this.put(known, seq, hash);
    if (later) known.last = seq;
    if (before !== null) return { seen: "boot-reused", gap: 0, newBoot, later: true };
    return { seen: "new", gap, newBoot, later };
  }

  private hashAt({ seqs, hashes }: SeenBoot, seq: number): number | null {
    const place = seq % seqs.length;
    return seqs[place] === seq ? (hashes[place] as number) : null;
  }

  private put(known: SeenBoot, seq: number, hash: number): void {
    while (known.seqs.length < maxPacks && this.isTakenByOther(known, seq)) {
      grow(known);
      for (let begin = 0; begin < known.seqs.length; begin += pageLength)
        this.markChanged(known.boot, begin / pageLength);
      this.trim(known);
    }
    const place = seq % known.seqs.length;
    known.seqs[place] = seq;
    known.hashes[place] = hash;
    this.markChanged(known.boot, Math.floor(place / pageLength));
  }

  private markChanged(boot: number, page: number): void {
    const pages = this.changed.get(boot);
    if (pages) pages.add(page);
    else this.changed.set(boot, new Set([page]));
  }

  private forgetOldest(): SeenBoot {
    const oldest = this.boots.shift() as SeenBoot;
    this.changed.delete(oldest.boot);
    this.forgotten.push({ boot: oldest.boot, length: oldest.seqs.length });
    return oldest;
  }

  private isTakenByOther({ seqs }: SeenBoot, seq: number): boolean {
    const there = seqs[seq % seqs.length] as number;
    return there !== seq && there % seqs.length === seq % seqs.length;
  }

  private trim(growing: SeenBoot): void {
    let total = 0;
    for (const { seqs } of this.boots) total += seqs.length;
    while (total > maxPacksOfNode && this.boots[0] !== growing) total -= this.forgetOldest().seqs.length;
  }

  heads(): readonly SeenBootHead[] {
    return this.boots.map(({ boot, seqs, last }) => ({ boot, length: seqs.length, last }));
  }

  /** Pages that changed since the last call, copied. */
  *changedPages(): Iterable<SeenPage> {
    for (const { boot, length } of this.forgotten)
      if (!this.boots.some((known) => known.boot === boot))
        for (let begin = 0; begin < length; begin += pageLength) yield [boot, begin / pageLength, null];
    this.forgotten = [];
    for (const { boot, seqs, hashes } of this.boots) {
      for (const page of this.changed.get(boot) ?? []) {
        const [begin, end] = [page * pageLength, Math.min(seqs.length, (page + 1) * pageLength)];
        const packs = new Uint32Array(2 * (end - begin));
        packs.set(seqs.subarray(begin, end));
        packs.set(hashes.subarray(begin, end), end - begin);
        yield [boot, page, packs];
      }
    }
    this.changed.clear();
  }
}
