import type { Correction } from "./calendar.ts";
import type { PastAsked, PastPiece } from "./past-pieces.ts";

/** What the thread of a derivation is started with. */
export interface DerivationAsked {
  readonly folder: string;
  readonly corrections: readonly Correction[];
  readonly asked: PastAsked;
}

/** What the thread says. */
export type DerivationTold =
  | { readonly type: "piece"; readonly piece: PastPiece }
  | { readonly type: "end" }
  | { readonly type: "failed"; readonly message: string };
