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

/** Gives each derived fill the id of the old one that it overlaps most; what no longer comes out is withdrawn. */
export function matchFills(
  old: readonly Fill[],
  derived: readonly Fill[],
): { readonly changed: Fill[]; readonly counts: FillCounts } {
  const left = new Set(old);
  const changed: Fill[] = [];
  const counts = { same: 0, revised: 0, added: 0, withdrawn: 0 };
  for (const fill of derived) {
    let best: Fill | null = null;
    for (const other of left) {
      if (other.drum !== fill.drum || overlapMs(other, fill) <= 0) continue;
      if (!best || overlapMs(other, fill) > overlapMs(best, fill)) best = other;
    }
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
  for (const gone of left) {
    if (gone.withdrawn) continue;
    counts.withdrawn += 1;
    changed.push({ ...gone, withdrawn: true, revision: gone.revision + 1 });
  }
  return { changed, counts };
}
