import type { SavedBurst } from "./burst.ts";
import type { HeardName } from "./channel-names.ts";
import type { BootClock } from "./node-time.ts";
import type { SeenBoot, SeenBootHead } from "./repeats.ts";
import type { WaitingPack } from "./waiting-pack.ts";

/** A will that may be that of a connection which the node has left for another one. */
export interface HeldWill {
  readonly seq: number;
  readonly boot: number | null;
  readonly dueMs: number;
}

/** What is remembered of one node, as plain data; packs that wait lie in rows of their own. */
export interface SavedNode {
  readonly seen: readonly SeenBootHead[];
  readonly boot: number | null;
  readonly clock: BootClock | null;
  readonly lastPackMs: number;
  /** Missing in what an earlier version kept. */
  readonly names?: readonly HeardName[];
  readonly clocks?: readonly (readonly [boot: number, clock: BootClock])[];
  readonly burst?: SavedBurst;
  readonly periodMs?: number | null;
  readonly madeTimes?: readonly number[];
  readonly onlineBoot?: number | null;
  readonly isTwice?: boolean;
  readonly will?: HeldWill | null;
  readonly startsAgain?: number;
  /** Some of what waited was given then, and more is to be. */
  readonly givenMs?: number | null;
  /** Where an earlier version kept them. */
  readonly waiting?: readonly WaitingPack[];
}

/** The whole of a node as the first version kept it. */
export type WholeNode = Omit<SavedNode, "seen"> & { readonly seen: readonly SeenBoot[] };
