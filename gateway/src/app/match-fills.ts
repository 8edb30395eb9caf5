import type { Fill } from "../fills/index.ts";

/** What became of fills that were derived again. */
export interface FillCounts {
  readonly same: number;
  readonly revised: number;
  readonly added: number;
  readonly withdrawn: number;
}

function overlapMs(a: Fill, b: Fill): number {
  return Math.min(a.endedAtMs ?? 0, b.endedAtMs ?? 0) - Math.max(a.startedAtMs, b.startedAtMs);
}

const plain = ({ id: _id, revision: _revision, withdrawn: _withdrawn, ...rest }: Fill) =>
  JSON.stringify(rest);

/** Old fills of one drum by their begin: of years of them only those near a fill are looked at. */
class OldFills {
  private readonly byBegin: Fill[] = [];
  private longestMs = 0;
  private isSorted = true;

  add(fill: Fill): void {
    this.byBegin.push(fill);
    this.longestMs = Math.max(this.longestMs, (fill.endedAtMs ?? 0) - fill.startedAtMs);
    this.isSorted = false;
  }

  /** All that overlap it, and some that do not. */
  *near({ startedAtMs, endedAtMs }: Fill): Generator<Fill> {
    const { byBegin } = this;
    if (!this.isSorted) byBegin.sort((a, b) => a.startedAtMs - b.startedAtMs);
    this.isSorted = true;
    const endMs = endedAtMs ?? 0;
    for (let at = this.placeFrom(startedAtMs - this.longestMs); at < byBegin.length; at += 1) {
      const fill = byBegin[at] as Fill;
      if (fill.startedAtMs >= endMs) return;
      yield fill;
    }
  }

  /** Place of the first that began then or later. */
  private placeFrom(ms: number): number {
    let [low, high] = [0, this.byBegin.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.byBegin[middle] as Fill).startedAtMs < ms) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

function byDrum(fills: readonly Fill[]): ReadonlyMap<string, OldFills> {
  const found = new Map<string, OldFills>();
  for (const fill of fills) {
    const known = found.get(fill.drum) ?? new OldFills();
    found.set(fill.drum, known);
    known.add(fill);
  }
  return found;
}

/**
 * Gives each derived fill the id of the old one that it overlaps most, of two the earlier in the list; what no longer comes out
 * is withdrawn.
 */
export function matchFills(
  old: readonly Fill[],
  derived: readonly Fill[],
): { readonly changed: Fill[]; readonly counts: FillCounts } {
  /** Those that no derived fill has, with their places. */
  const left = new Map(old.map((fill, place) => [fill, place] as const));
  const ofDrum = byDrum(old);
  const changed: Fill[] = [];
  const counts = { same: 0, revised: 0, added: 0, withdrawn: 0 };
  for (const fill of derived) {
    const best = mostOverlapped(fill, ofDrum.get(fill.drum)?.near(fill) ?? [], left);
    if (!best) {
      counts.added += 1;
      changed.push({ ...fill, revision: 1 });
      continue;
    }
    left.delete(best);
    if (plain(best) === plain(fill) && !best.withdrawn) counts.same += 1;
    else {
      counts.revised += 1;
      changed.push({ ...fill, id: best.id, revision: best.revision + 1 });
    }
  }
  for (const gone of left.keys()) {
    if (gone.withdrawn) continue;
    counts.withdrawn += 1;
    changed.push({ ...gone, withdrawn: true, revision: gone.revision + 1 });
  }
  return { changed, counts };
}

function mostOverlapped(fill: Fill, near: Iterable<Fill>, left: ReadonlyMap<Fill, number>): Fill | null {
  let best: Fill | null = null;
  let [bestMs, bestPlace] = [0, 0];
  for (const other of near) {
    const place = left.get(other);
    const ms = overlapMs(other, fill);
    if (place === undefined || ms <= 0 || ms < bestMs) continue;
    if (best && ms === bestMs && place > bestPlace) continue;
    [best, bestMs, bestPlace] = [other, ms, place];
  }
  return best;
}
