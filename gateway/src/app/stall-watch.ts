/**
 * Whether something that is counted has stopped: what was due at a look is not done `withinMs` later. `due` and `done` only
 * rise; times are engine time.
 */
export function createStallWatch(withinMs: number) {
  let mark: { readonly due: number; readonly atMs: number } | null = null;
  return (due: number, done: number, nowMs: number): boolean => {
    if (mark && done >= mark.due) mark = null;
    if (!mark && done < due) mark = { due, atMs: nowMs };
    return mark !== null && nowMs - mark.atMs > withinMs;
  };
}
