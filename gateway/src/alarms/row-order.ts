import type { AnyCondition } from "./condition.ts";

/** Conditions look at each other's state in a circle, or at one that is not there. A fault of the program. */
class ConditionOrderError extends Error {
  readonly code = "condition-order";
}

/** Rows in the order in which they are judged: those that one looks at, or that bring it about, before it. */
export function inOrder(rows: readonly AnyCondition[]): readonly AnyCondition[] {
  const byId = new Map<string, AnyCondition>(rows.map((row) => [row.id, row] as const));
  if (byId.size < rows.length) throw new ConditionOrderError("Two conditions have one id.");
  const before = new Map<string, Set<string>>(rows.map((row) => [row.id, new Set(row.after ?? [])]));
  for (const row of rows)
    for (const { condition } of row.causes ?? []) {
      const caused = before.get(condition);
      if (!caused) throw new ConditionOrderError(`${row.id} causes ${condition}, which is no condition.`);
      caused.add(row.id);
    }
  const ordered: AnyCondition[] = [];
  const state = new Map<string, "open" | "done">();
  const visit = (id: string, from: string): void => {
    if (state.get(id) === "done") return;
    if (state.get(id) === "open") throw new ConditionOrderError(`${from} and ${id} wait for each other.`);
    const row = byId.get(id);
    if (!row) throw new ConditionOrderError(`${from} looks at ${id}, which is no condition.`);
    state.set(id, "open");
    for (const other of before.get(id) ?? []) visit(other, id);
    state.set(id, "done");
    ordered.push(row);
  };
  for (const { id } of rows) visit(id, id);
  return ordered;
}
