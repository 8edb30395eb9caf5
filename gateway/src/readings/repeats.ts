/** Packs of a node that are remembered, over all of its remembered boots. */
const mostPacks = 4096;
/** Boots of a node that are remembered. */
const mostBoots = 8;

/** What is remembered of one boot: a hash by pack seq, oldest first. Plain JSON. */
export interface SeenBoot {
  readonly boot: number;
  readonly seqs: number[];
  readonly hashes: number[];
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

/** The packs of one node that came before, so that none is stored twice. Bounded: 4,096 packs of 8 boots. */
export class SeenPacks {
  private readonly boots: SeenBoot[];
  private readonly index = new Map<number, Map<number, number>>();

  constructor(boots: readonly SeenBoot[] = []) {
    this.boots = boots.map((boot) => ({ ...boot, seqs: [...boot.seqs], hashes: [...boot.hashes] }));
    for (const boot of this.boots)
      this.index.set(boot.boot, new Map(boot.seqs.map((seq, place) => [seq, boot.hashes[place] as number])));
  }

  /** Remembers a pack and tells whether it came before, and how many packs of this boot are missing before it. */
  take(boot: number, seq: number, hash: number): TakenPack {
    let known = this.boots.find((candidate) => candidate.boot === boot);
    const newBoot = known === undefined;
    if (known === undefined) {
      known = { boot, seqs: [], hashes: [], last: null };
      this.boots.push(known);
      this.index.set(boot, new Map());
      if (this.boots.length > mostBoots) this.index.delete((this.boots.shift() as SeenBoot).boot);
    }
    const hashes = this.index.get(boot) as Map<number, number>;
    const before = hashes.get(seq);
    if (before === hash) return { seen: "repeat", gap: 0, newBoot, later: false };
    const gap = known.last !== null && seq > known.last + 1 ? seq - known.last - 1 : 0;
    const later = known.last === null || seq > known.last;
    if (later) known.last = seq;
    hashes.set(seq, hash);
    if (before !== undefined) {
      known.hashes[known.seqs.indexOf(seq)] = hash;
      return { seen: "boot-reused", gap: 0, newBoot, later: true };
    }
    known.seqs.push(seq);
    known.hashes.push(hash);
    this.trim();
    return { seen: "new", gap, newBoot, later };
  }

  private trim(): void {
    let total = 0;
    for (const boot of this.boots) total += boot.seqs.length;
    // In blocks, so that the arrays are not moved at every pack.
    if (total < mostPacks + 256) return;
    let surplus = total - mostPacks;
    for (const boot of this.boots) {
      const gone = boot.seqs.splice(0, Math.min(surplus, boot.seqs.length));
      boot.hashes.splice(0, gone.length);
      for (const seq of gone) this.index.get(boot.boot)?.delete(seq);
      surplus -= gone.length;
      if (surplus === 0) return;
    }
  }

  snapshot(): readonly SeenBoot[] {
    return this.boots;
  }
}
