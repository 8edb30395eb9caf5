/**
 * A node may count what happens at a channel, so that a silence proves itself empty: same boot, same count, nothing
 * happened. A counter is a record beside its channel's, named after it:
 *
 * - `float-1.changes`, unit `count` (RFC 8428 §12.1): how often the contact changed over since the node's start. Counted
 *   in an interrupt or each few milliseconds, not once a pack; a whole number of 32 bits.
 * - `flow-1.total`, unit `m3`: what came through the meter since the node's start. Pulses are counted in a whole number of
 *   32 bits and multiplied when they are sent: a `float` that pulses are added to stands still at some size.
 *
 * Both stand in every pack, with `boot` and `up`: without these they prove nothing.
 */
export type CounterKind = "changes" | "total";

/** What a record counts. */
export interface Counted {
  /** The channel beside which it counts. */
  readonly name: string;
  readonly kind: CounterKind;
}

/** The name of a channel's counter. */
export const counterName = (name: string, kind: CounterKind): string => `${name}.${kind}`;

/** What a record of this name counts; null where it is no counter. Nodes may stand before the name: `press/flow-1.total`. */
export function countedBy(name: string): Counted | null {
  const dot = name.lastIndexOf(".");
  if (dot <= 0) return null;
  const kind = name.slice(dot + 1);
  return kind === "changes" || kind === "total" ? { name: name.slice(0, dot), kind } : null;
}
