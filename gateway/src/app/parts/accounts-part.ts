import { type Accounts, openAccounts } from "../../accounts/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving, good } from "../parts.ts";

/** People, programs and nodes of the data folder. */
export function accountsPart(data: string, clock: Clock, log: (message: string) => void): Giving<Accounts> {
  return definePart("accounts", {
    start: () =>
      openAccounts({
        folder: data,
        now: clock.nowMs,
        elapsedMs: clock.engineMs,
        onTrouble: (trouble) =>
          log(
            trouble === null
              ? "accounts: written again"
              : `accounts: the disk does not take changes: ${trouble}. Who signs in now is forgotten at the next start. Look at the disk of ${data}.`,
          ),
      }),
    stop: (accounts) => accounts.close(),
    health: (accounts) =>
      accounts.trouble() === null
        ? good
        : {
            state: "degraded",
            text: "the disk does not take changes; who signs in is forgotten at the next start",
          },
  });
}
