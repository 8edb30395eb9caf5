import { inTransaction } from "../../database/index.ts";
import { type Columns, layeredAll, within } from "../columns.ts";
import { beginOf, dayMs, hourMs } from "../rollups.ts";
import type { BlockFile } from "./block-file.ts";
import { mergeIntoBlocks } from "./blocks.ts";
import type { Followers } from "./followers.ts";
import { familySize } from "./part.ts";

/** Rows may come so late, event time, and still be sealed with the others. */
const lateMs = hourMs;
/** So many parts with late rows lie above the blocks before they are merged into them. */
const maxPatches = 64;

interface FamilyState {
  sealedTo: number;
  /** Times of the first row that is in no block, and of the last row of all. */
  firstMs: number;
  lastMs: number;
  /** Parts with rows before `sealedTo` that came after it was sealed. */
  patches: number;
}

/** Merges parts of batches into blocks, a family of series at a time, once their hour is past. */
export class Sealing {
  private readonly file: BlockFile;
  private readonly followers: Followers;
  private families = new Map<number, FamilyState>();
  /** The last time of the rows that came last, epoch ms; null before any came. */
  lastCameMs: number | null = null;

  constructor(file: BlockFile, followers: Followers) {
    this.file = file;
    this.followers = followers;
    this.look();
  }

  /** Reads from the file how each family is. */
  look(): void {
    this.families = new Map();
    for (const { id, sealed_to } of this.file.sql("SELECT id, sealed_to FROM family").all())
      this.state(id as number).sealedTo = sealed_to as number;
    const parts = this.file.sql(
      "SELECT p.family, p.first_ms, p.last_ms, p.id > coalesce(f.sealed_part, 0) AS is_new FROM part p LEFT JOIN family f ON f.id = p.family",
    );
    for (const { family, first_ms, last_ms, is_new } of parts.iterate()) {
      const state = this.state(family as number);
      const firstMs = is_new ? (first_ms as number) : Math.max(first_ms as number, state.sealedTo);
      this.note(state, { firstMs, lastMs: last_ms as number });
    }
  }

  private state(family: number): FamilyState {
    const known = this.families.get(family);
    if (known) return known;
    const made: FamilyState = {
      sealedTo: Number.NEGATIVE_INFINITY,
      firstMs: Number.POSITIVE_INFINITY,
      lastMs: Number.NEGATIVE_INFINITY,
      patches: 0,
    };
    this.families.set(family, made);
    return made;
  }

  private note(state: FamilyState, { firstMs, lastMs }: { firstMs: number; lastMs: number }): void {
    if (firstMs < state.sealedTo) state.patches += 1;
    state.firstMs = Math.min(state.firstMs, firstMs);
    state.lastMs = Math.max(state.lastMs, lastMs);
  }

  /** A part came. */
  came(family: number, part: { readonly firstMs: number; readonly lastMs: number }): void {
    this.note(this.state(family), part);
    this.lastCameMs = part.lastMs;
  }

  private sealTo({ lastMs, sealedTo }: FamilyState): number {
    return Math.max(sealedTo, beginOf(lastMs - lateMs, hourMs));
  }

  /** Seals one family that is due; false when none is. */
  step(): boolean {
    for (const [family, state] of this.families) {
      const sealTo = this.sealTo(state);
      const isPast = sealTo > state.sealedTo && state.firstMs < sealTo;
      if (!isPast && state.patches < maxPatches) continue;
      this.seal(family, state, sealTo);
      return true;
    }
    return false;
  }

  private seal(family: number, state: FamilyState, sealTo: number): void {
    const { file } = this;
    const { sealedTo, sealedPart } = file.sealedOf(family);
    let lastPart = sealedPart;
    let firstLeftMs = Number.POSITIVE_INFINITY;
    const layers = new Map<number, Columns[]>();
    for (const { id, part } of file.partsOf(family, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY)) {
      lastPart = Math.max(lastPart, id);
      const fromMs = id <= sealedPart ? sealedTo : Number.NEGATIVE_INFINITY;
      for (const series of part.series()) {
        const rows = part.rowsOf(series) as Columns;
        const due = within(rows, fromMs, sealTo);
        firstLeftMs = Math.min(
          firstLeftMs,
          within(rows, sealTo, Number.POSITIVE_INFINITY).tMs[0] ?? Number.POSITIVE_INFINITY,
        );
        if (due.tMs.length === 0) continue;
        const known = layers.get(series);
        if (known) known.push(due);
        else layers.set(series, [due]);
      }
    }
    file.database.exec("PRAGMA synchronous = NORMAL");
    inTransaction(file.database, () => {
      for (const [series, of] of layers)
        mergeIntoBlocks(file, series, layeredAll(of), { doneBeforeMs: sealTo });
      this.mergeDays(family, beginOf(sealedTo, dayMs), beginOf(sealTo, dayMs));
      file
        .sql("INSERT OR REPLACE INTO family (id, sealed_to, sealed_part) VALUES (?, ?, ?)")
        .run(family, sealTo, lastPart);
      this.followers.oweSealed(family, sealTo, { sealedTo, sealedPart });
      file.sql("DELETE FROM part WHERE family = ? AND last_ms < ?").run(family, sealTo);
    });
    file.forgetParts();
    state.sealedTo = sealTo;
    state.firstMs = firstLeftMs;
    state.patches = 0;
  }

  /** Hours of days that are over become one block each, also of series that said nothing more. */
  private mergeDays(family: number, fromMs: number, toMs: number): void {
    if (fromMs >= toMs) return;
    const left = this.file.sql(
      `SELECT DISTINCT series, CAST(floor(begin / ${dayMs}.0) AS INTEGER) * ${dayMs} AS day FROM block WHERE series >= ? AND series < ? AND begin >= ? AND begin < ? AND span < ${dayMs}`,
    );
    const none: Columns = { tMs: new Float64Array(), values: new Float64Array(), flags: new Uint8Array() };
    const from = Math.max(fromMs, Number.MIN_SAFE_INTEGER);
    for (const { series, day } of left.all(family * familySize, (family + 1) * familySize, from, toMs))
      mergeIntoBlocks(this.file, series as number, none, { doneBeforeMs: toMs, dayMs: day as number });
  }
}
