/** A table by names that come from outside: without a prototype, so that no name is there before it was put. */
export function byName<Value>(entries: Readonly<Record<string, Value>> = {}): Record<string, Value> {
  return Object.assign(Object.create(null), entries);
}
