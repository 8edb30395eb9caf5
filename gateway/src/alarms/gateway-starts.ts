import type { StateRow } from "../path/index.ts";

/** When the gateway started last; and whether slots are kept with when they are looked at again. */
const [startRow, inARowRow, looksRow] = ["start", "starts in a row", "looks"];
/** Starts that are no farther apart come in a row. */
const inARowMs = 5 * 60_000;
/** So many of those leave nodes time to be heard again: a gateway that fails again and again hides nothing for ever. */
const mostInARow = 3;

/** Starts of the gateway, as far as conditions ask for them. */
export class GatewayStarts {
  /** When it started last, epoch ms; null: it begins with records, and could hear nothing before the first step. */
  startedMs: number | null = 0;
  private inARow = { count: 0, lastMs: 0 };
  private isDirty = false;

  started(atMs: number): void {
    const isNext = atMs - this.inARow.lastMs < inARowMs;
    this.inARow = { count: isNext ? this.inARow.count + 1 : 1, lastMs: atMs };
    if (this.startedMs === null || this.inARow.count <= mostInARow) this.startedMs = atMs;
    this.isDirty = true;
  }

  *dirty(): Iterable<StateRow> {
    if (this.isDirty)
      yield* [
        [startRow, this.startedMs] as const,
        [inARowRow, this.inARow] as const,
        [looksRow, true] as const,
      ];
    this.isDirty = false;
  }

  /** Goes on from saved rows; false: those of a version that did not keep when slots are looked at again. */
  load(rows: ReadonlyMap<string, unknown>): boolean {
    this.startedMs = (rows.get(startRow) as number | null | undefined) ?? 0;
    this.inARow = (rows.get(inARowRow) as typeof this.inARow | undefined) ?? this.inARow;
    return rows.get(looksRow) === true;
  }
}
