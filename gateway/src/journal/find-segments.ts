import { accessSync, constants, existsSync, readdirSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { asideOf, claimFile } from "../database/index.ts";
import type { Gap, Gaps } from "./gaps.ts";

/** One file of the journal. */
export interface Segment {
  readonly path: string;
  readonly firstSeq: number;
}

/** The file that begins with an entry: `journal-000000000001.sqlite`. */
export function segmentName(firstSeq: number): string {
  return `journal-${String(firstSeq).padStart(12, "0")}.sqlite`;
}

/** Bytes that an entry takes at least: so many may be in a file that can't be opened. */
const leastEntryBytes = 10;
type Looked =
  | { readonly state: "readable"; readonly last: number | null }
  | { readonly state: "missing" | "unreadable" | "newer" };

const sizeOf = (path: string) => (existsSync(path) ? statSync(path).size : 0);

/** Looks at a file without changing it. A damaged one is readable: what can be read of it is seen when it is. */
function look(path: string, knownSchema: number): Looked {
  if (sizeOf(path) === 0 && sizeOf(`${path}-wal`) === 0) return { state: "missing" };
  try {
    accessSync(path, constants.R_OK);
    if (existsSync(`${path}-wal`)) accessSync(`${path}-wal`, constants.R_OK);
  } catch {
    return { state: "unreadable" };
  }
  let database: DatabaseSync | null = null;
  try {
    database = new DatabaseSync(path, { readOnly: true });
    const { user_version: schema } = database.prepare("PRAGMA user_version").get() as {
      user_version: number;
    };
    if (schema > knownSchema) return { state: "newer" };
    const last = database.prepare("SELECT max(seq) AS last FROM entry").get() as { last: number | null };
    return { state: "readable", last: last.last };
  } catch {
    return { state: "readable", last: null };
  } finally {
    database?.close();
  }
}

/** What is there of a journal. */
export interface Found {
  /** Readable files, in order; the last one is written to. */
  readonly segments: readonly Segment[];
  readonly gaps: readonly Gap[];
  /** What was wrong with the file that is written to, in plain words. */
  readonly faults: readonly string[];
  /** No number up to this one is given again. */
  readonly usedSeq: number;
  /** Each number up to this one is in a file, or in a gap. */
  readonly accountedSeq: number;
  /** The file that was written to last, where it is gone. */
  readonly missingLast: string | null;
}

/** Another user's file that is written to is copied. */
function claimLast({ path }: Segment, nowMs: number): string[] {
  const aside = asideOf(path, "foreign", nowMs);
  return claimFile(path, () => aside) === "copied"
    ? [`${basename(path)} was another user's and is set aside as ${basename(aside)}; a copy is used`]
    : [];
}

const segmentOf = ({ path, from }: Gap): Segment => ({ path, firstSeq: from });

/** Finds the journal's files, and what is missing between them. */
export function findSegments(folder: string, known: Gaps, knownSchema: number, nowMs: number): Found {
  const all = readdirSync(folder)
    .map((name) => /^journal-(\d{12})\.sqlite$/.exec(name))
    .filter((match) => match !== null)
    .map((match) => ({ path: join(folder, match[0]), firstSeq: Number(match[1]) }))
    .sort((a, b) => a.firstSeq - b.firstSeq);
  const faults = all.slice(-1).flatMap((last) => claimLast(last, nowMs));
  const segments: Segment[] = [];
  const gaps: Gap[] = [];
  let nextSeq = known.firstSeq ?? all[0]?.firstSeq ?? 1;
  let usedSeq = 0;
  const missing = (to: number) => {
    if (to >= nextSeq)
      gaps.push({ from: nextSeq, to, path: join(folder, segmentName(nextSeq)), why: "missing" });
  };
  for (const [place, segment] of all.entries()) {
    const seen = look(segment.path, knownSchema);
    const following = all[place + 1]?.firstSeq;
    if (seen.state === "missing") continue;
    missing(segment.firstSeq - 1);
    if (seen.state === "readable") {
      segments.push(segment);
      nextSeq = (seen.last ?? (following ?? segment.firstSeq) - 1) + 1;
    } else {
      const bytes = sizeOf(segment.path) + sizeOf(`${segment.path}-wal`);
      const to = (following ?? segment.firstSeq + Math.ceil(bytes / leastEntryBytes)) - 1;
      gaps.push({ from: segment.firstSeq, to, path: segment.path, why: seen.state });
      usedSeq = to;
      nextSeq = to + 1;
    }
    nextSeq = Math.max(nextSeq, segment.firstSeq);
  }
  const isLastGone =
    known.newestSeq > Math.max(0, ...segments.concat(gaps.map(segmentOf)).map(({ firstSeq }) => firstSeq));
  return {
    segments,
    gaps,
    faults,
    usedSeq: Math.max(usedSeq, nextSeq - 1, isLastGone ? known.newestSeq : 0),
    accountedSeq: nextSeq - 1,
    missingLast: isLastGone ? join(folder, segmentName(known.newestSeq)) : null,
  };
}
