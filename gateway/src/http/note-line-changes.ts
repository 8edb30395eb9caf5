import type { Accounts } from "../accounts/index.ts";
import type { LineFileSaved } from "./components.ts";

type Changes = Extract<LineFileSaved, { ok: true }>["changes"];

/** Writes into the audit who changed which places of the line file, with before and after. */
export function noteLineChanges(accounts: Pick<Accounts, "note">, by: string, changes: Changes): void {
  for (const { at, before, after } of changes)
    accounts.note({
      by,
      what: "line-changed",
      subject: at,
      before: { value: before },
      after: { value: after },
    });
}
