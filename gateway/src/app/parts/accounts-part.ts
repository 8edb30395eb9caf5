import { type Accounts, openAccounts } from "../../accounts/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving } from "../parts.ts";

/** People, programs and nodes of the data folder. */
export function accountsPart(data: string, clock: Clock): Giving<Accounts> {
  return definePart("accounts", {
    start: () => openAccounts({ folder: data, now: clock.nowMs, elapsedMs: clock.engineMs }),
    stop: (accounts) => accounts.close(),
  });
}
