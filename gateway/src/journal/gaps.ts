import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";

/** Entries that should be there and can't be had: `from` to `to`, of the file named. */
export interface Gap {
  readonly from: number;
  readonly to: number;
  readonly path: string;
  readonly why: "missing" | "unreadable" | "newer" | "short";
}

interface KnownGaps {
  /** The first entry that was kept at the last look: what is before it was let go. Null: not known. */
  readonly firstSeq: number | null;
  /** The first entry of the file that was written to last. */
  readonly newestSeq: number;
  readonly gaps: readonly { readonly from: number; readonly to: number }[];
}

const words: Readonly<Record<Gap["why"], string>> = {
  missing: "is missing",
  unreadable: "can't be read by this user",
  newer: "was written by a newer Drumlin",
  short: "ends too early",
};

/** A gap in a plain sentence that begins with the file's name. */
export function gapText({ from, to, path, why }: Gap): string {
  const advice = why === "unreadable" ? " Give it back to this user and start again: they are run then." : "";
  return `${basename(path)} ${words[why]}: entries ${from} to ${to} can't be run again.${advice}`;
}

const fileOf = (folder: string) => join(folder, "journal-gaps.json");

/** What was known at the last start; a file that can't be read knows nothing, and everything is told once more. */
function loadGaps(folder: string): KnownGaps {
  try {
    const { firstSeq, newestSeq, gaps } = JSON.parse(
      readFileSync(fileOf(folder), "utf8"),
    ) as Partial<KnownGaps>;
    const isGap = ({ from, to }: { readonly from?: unknown; readonly to?: unknown }) =>
      Number.isSafeInteger(from) && Number.isSafeInteger(to);
    return {
      firstSeq: Number.isSafeInteger(firstSeq) ? (firstSeq as number) : null,
      newestSeq: Number.isSafeInteger(newestSeq) ? (newestSeq as number) : 0,
      gaps: Array.isArray(gaps) ? gaps.filter(isGap) : [],
    };
  } catch {
    return { firstSeq: null, newestSeq: 0, gaps: [] };
  }
}

/** Numbers that a journal lacks, remembered from start to start, so that each loss is told once and its return is seen. */
export class Gaps {
  private readonly folder: string;
  private known: KnownGaps;

  constructor(folder: string) {
    this.folder = folder;
    this.known = loadGaps(folder);
  }

  get firstSeq(): number | null {
    return this.known.firstSeq;
  }

  get newestSeq(): number {
    return this.known.newestSeq;
  }

  /** What is lost that was not lost before. */
  newOf(gaps: readonly Gap[]): readonly Gap[] {
    return gaps.filter(({ from, to }) => !this.known.gaps.some((old) => old.from <= from && old.to >= to));
  }

  /** Whether entries that were lost before are there again. */
  isSomethingBack(gaps: readonly Gap[], lastSeq: number): boolean {
    return this.known.gaps.some(
      (old) => old.from <= lastSeq && !gaps.some(({ from, to }) => from <= old.from && to >= old.from),
    );
  }

  /** Remembers what changed; on a full disk it is told again at the next start. */
  remember(changed: Partial<KnownGaps>): void {
    const next = { ...this.known, ...changed };
    const text = JSON.stringify({ ...next, gaps: next.gaps.map(({ from, to }) => ({ from, to })) });
    if (text === JSON.stringify(this.known)) return;
    this.known = JSON.parse(text) as KnownGaps;
    try {
      const path = fileOf(this.folder);
      writeFileSync(`${path}.new`, text, { mode: 0o600, flush: true });
      renameSync(`${path}.new`, path);
    } catch {
      // Kept in memory.
    }
  }

  add(from: number, to: number): void {
    this.remember({ gaps: [...this.known.gaps, { from, to }] });
  }

  /** Before a file is let go. */
  letGo(firstSeq: number): void {
    this.remember({ firstSeq, gaps: this.known.gaps.filter(({ to }) => to >= firstSeq) });
  }
}
