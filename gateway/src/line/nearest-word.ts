/** Edits (insert, delete, replace a sign) from one word to the other: Levenshtein's distance. */
function edits(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const replaced = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(replaced, (row[j] as number) + 1, (next[j - 1] as number) + 1));
    }
    row = next;
  }
  return row[b.length] as number;
}

/** The word among `known` that was most likely meant; null when none is near. */
export function nearestWord(word: string, known: readonly string[]): string | null {
  let best: { word: string; distance: number } | null = null;
  for (const candidate of known) {
    const distance = edits(word, candidate);
    if (
      distance <= Math.max(1, Math.floor(candidate.length / 3)) &&
      (best === null || distance < best.distance)
    )
      best = { word: candidate, distance };
  }
  return best?.word ?? null;
}
