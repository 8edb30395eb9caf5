import type { Act } from "../acts/index.ts";

/** What the logbook still knows when a stage's own state is gone. */
export interface Records {
  /** The newest record of each key of a kind: alarms by key, words by drum, presences by node; oldest first. */
  last(kind: string): readonly unknown[];
  /** The newest `perKey` records of each key of a kind, oldest first. Acts that were taken: `act TYPE`, as `PastAct`. */
  list(kind: string, perKey: number): readonly unknown[];
}

/** An act that was taken, as the logbook knows it. */
interface PastAct<Given extends Act = Act> {
  readonly atMs: number;
  readonly act: Given;
}

/** Acts of some types that were taken, oldest first: the newest `perType` of each. */
export function actsOf<Type extends Act["type"]>(
  records: Records,
  types: readonly Type[],
  perType = 200,
): readonly PastAct<Extract<Act, { readonly type: Type }>>[] {
  const found = types.flatMap((type) => records.list(`act ${type}`, perType));
  return (found as PastAct<Extract<Act, { readonly type: Type }>>[]).sort((a, b) => a.atMs - b.atMs);
}

/** The text of the line that was in force last; null where none is known. */
export function lastLineOf(records: Records): string | null {
  const last = records.last("line").at(-1) as { readonly yaml: string } | undefined;
  return last?.yaml ?? null;
}
