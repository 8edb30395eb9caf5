import { existsSync } from "node:fs";
import { basename, join } from "node:path";
import { asideOf, claimFile, copyWhole, isBare, moveFile } from "../database/index.ts";
import type { SavedPath } from "../path/index.ts";
import { copyFault, copyName, fileName, removeFile, rowsOf, seqOf, whyNotUsable } from "./state-file.ts";

interface Loading {
  readonly folder: string;
  /** Names files that are set aside, epoch ms. */
  readonly nowMs: number;
  /** A state after this entry is of no use: what it built on is not stored. */
  readonly atMostSeq: number;
  readonly onFault: (text: string) => void;
}

/** The file's state; undefined where it can't be used and is out of the way, with what was wrong with it. */
function loadFile(path: string, { nowMs, onFault }: Loading): { saved: SavedPath | null } | { why: string } {
  if (isBare(path)) return { why: "was missing or empty" };
  const aside = asideOf(path, "foreign", nowMs);
  const claim = claimFile(path, () => aside);
  const name = basename(path);
  if (claim === "copied")
    onFault(`${name} was another user's and is set aside as ${basename(aside)}; a copy is used`);
  if (claim === "unreadable") {
    moveFile(path, aside);
    return { why: `can't be read by this user and is set aside as ${basename(aside)}` };
  }
  let saved: SavedPath | null = null;
  const why = whyNotUsable(path, () => {
    saved = rowsOf(path);
  });
  if (why === null) return { saved };
  const away = asideOf(path, why === "was damaged" ? "damaged" : "newer", nowMs);
  moveFile(path, away);
  return { why: `${why} and is set aside as ${basename(away)}` };
}

function loadCopy(path: string): { saved: SavedPath | null } | { why: string } {
  let saved: SavedPath | null = null;
  const why = whyNotUsable(path, () => {
    saved = rowsOf(path);
  });
  return why === null ? { saved } : { why };
}

/**
 * The state of the path in a data folder, of the newest generation that is sound and not
 * after `atMostSeq`; null when there is none. What can't be used is set aside and told of; the copy takes its place.
 */
export function loadState(loading: Loading): SavedPath | null {
  const { folder, atMostSeq, onFault } = loading;
  const path = join(folder, fileName);
  const copy = join(folder, copyName);
  const hasCopy = existsSync(copy);
  const isUsable = (saved: SavedPath | null) => saved !== null && saved.seq <= atMostSeq;
  const file = loadFile(path, loading);
  if ("saved" in file && isUsable(file.saved)) return file.saved;
  const older = hasCopy ? loadCopy(copy) : null;
  if (older && "why" in older) onFault(copyFault(older.why));
  const saved = older && "saved" in older && isUsable(older.saved) ? older.saved : null;
  const isFirst = "why" in file && file.why.startsWith("was missing") && !hasCopy;
  if ("why" in file && !isFirst)
    onFault(`${fileName} ${file.why}; ${saved ? "the hourly copy is used" : "the journal is run again"}`);
  if (saved) {
    removeFile(path);
    copyWhole(copy, path);
  } else if ("saved" in file && file.saved) {
    removeFile(path);
    removeFile(copy);
  }
  return saved;
}

/** Looks at the copy's first page: it is needed only when the file is gone, and read whole with the first checkpoint. */
export function lookAtCopy(folder: string, onFault: (text: string) => void): void {
  const copy = join(folder, copyName);
  const why = existsSync(copy) ? whyNotUsable(copy, seqOf) : null;
  if (why !== null) onFault(copyFault(why));
}
