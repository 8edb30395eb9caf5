import { join } from "node:path";
import { type Accounts, openAccounts } from "../../accounts/index.ts";
import { isBare } from "../../database/index.ts";
import type { Journal } from "../../journal/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving, good } from "../parts.ts";

/** People, programs and nodes of the data folder. */
export function accountsPart(
  data: string,
  clock: Clock,
  journal: Giving<Journal>,
  log: (message: string) => void,
): Giving<Accounts> {
  return definePart("accounts", {
    start() {
      // A folder that has lived had accounts: whoever took them away must not become the first one.
      const file = join(data, "accounts.sqlite");
      if (journal.it.lastSeq > 0 && isBare(file))
        throw new Error(
          `${file} is missing or empty, and this folder has been in use: nobody may sign in. Put a copy in its place, or begin anew with drumlin user add NAME.`,
        );
      return openAccounts({
        folder: data,
        now: clock.nowMs,
        elapsedMs: clock.engineMs,
        onTrouble: (trouble) =>
          log(
            trouble === null
              ? "accounts: written again"
              : `accounts: the disk does not take changes: ${trouble}. Who signs in now is forgotten at the next start. Look at the disk of ${data}.`,
          ),
      });
    },
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
