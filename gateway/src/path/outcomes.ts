import type { Act, ActRefused } from "../acts/index.ts";
import type { Line } from "../line/index.ts";
import type { EntryMark, PathEvent } from "./stage.ts";

/** An entry of the journal, as far as the composer looks into it; stages hear it under its kind. */
export type PathEntry = EntryMark & PathEvent & { readonly act?: Act; readonly yaml?: string };

/** What became of an act: taken, or refused by name. */
export interface ActDone {
  readonly kind: "act-done";
  /** `{seq}` of the act's entry. */
  readonly id: string;
  readonly act: Act;
  readonly atMs: number;
  readonly refused: ActRefused | null;
}

/** A line description came into force. */
export interface LineInForce {
  readonly kind: "line";
  readonly seq: number;
  readonly atMs: number;
  readonly line: Line;
  readonly yaml: string;
}

/** Takes what comes out of the path. */
export type Emit = (outcome: PathEvent) => void;
