/** QARTOD flag: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing (US IOOS manual for data flags v1.2, 2020). */
export type QartodFlag = 1 | 2 | 3 | 4 | 9;

/** A value, or null where one is missing. */
export type MaybeValue = number | null;

/** From what says least to what says most. */
const order: readonly QartodFlag[] = [9, 2, 1, 3, 4];

/** One flag of several tests of one value: the one that says most (4, then 3, 1, 2, 9). 2 for no tests. */
export function rollUp(flags: readonly QartodFlag[]): QartodFlag {
  if (flags.length === 0) return 2;
  return flags.reduce((worst, flag) => (order.indexOf(flag) > order.indexOf(worst) ? flag : worst));
}
