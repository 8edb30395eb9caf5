/** Packs of a boot that are remembered, at most. A power of two. */
const mostPacks = 4096;
const fewestPacks = 64;
/** Packs of a node that are remembered, over all of its boots; 8 bytes each. */
const mostPacksOfNode = 2 * mostPacks;
/** Boots of a node that are remembered. */
const mostBoots = 8;

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

/** The packs of one node that came before, so that none is stored twice. Bounded: the last 4,096 of each of 8 boots, 8,192 in all. */
export class SeenPacks {
  private readonly boots: SeenBoot[];

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
      if (this.boots.length > mostBoots) this.boots.shift();
    }
    const before = this.hashAt(known, seq);
    if (before === hash) return { seen: "repeat", gap: 0, newBoot, later: false };
    const gap = known.last !== null && seq > known.last + 1 ? seq - known.last - 1 : 0;
    const later = known.last === null || seq > known.last;
    // An older pack than are remembered must not drive out a newer one.
    if (later || before !== null || seq > (known.last as number) - mostPacks) this.put(known, seq, hash);
    if (later) known.last = seq;
    if (before !== null) return { seen: "boot-reused", gap: 0, newBoot, later: true };
    return { seen: "new", gap, newBoot, later };
  }

  private hashAt({ seqs, hashes }: SeenBoot, seq: number): number | null {
    const place = seq % seqs.length;
    return seqs[place] === seq ? (hashes[place] as number) : null;
  }

  private put(known: SeenBoot, seq: number, hash: number): void {
    while (known.seqs.length < mostPacks && this.isTakenByOther(known, seq)) {
      grow(known);
      this.trim(known);
    }
    const place = seq % known.seqs.length;
    known.seqs[place] = seq;
    known.hashes[place] = hash;
  }

  private isTakenByOther({ seqs }: SeenBoot, seq: number): boolean {
    const there = seqs[seq % seqs.length] as number;
    return there !== seq && there % seqs.length === seq % seqs.length;
  }

  private trim(growing: SeenBoot): void {
    let total = 0;
    for (const { seqs } of this.boots) total += seqs.length;
    while (total > mostPacksOfNode && this.boots[0] !== growing)
      total -= (this.boots.shift() as SeenBoot).seqs.length;
  }

  snapshot(): readonly SeenBoot[] {
    return this.boots;
  }
}
