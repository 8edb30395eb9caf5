/** Salt that dissolves under a level by pressure. Plain data. */
export interface DissolvingSalt {
  readonly sinceMs: number;
  /** Where the level stood when the salt went in, as inflow alone would have left it, L; null: not read since. */
  baseL: number | null;
  /** So much the level may rise of it in all, and has, L. */
  mostL: number;
  roseL: number;
  /** What portions of the same batch before it made the level rise by, L. */
  readonly beforeL: number;
  /** The last readings as they would be without it, L. */
  last: number[];
}
