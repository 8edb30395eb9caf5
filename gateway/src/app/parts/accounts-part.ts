import { type Accounts, openAccounts } from "../../accounts/index.ts";
import type { Journal } from "../../journal/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving, good } from "../parts.ts";
import { faultWords } from "./renewal.ts";

const file = "accounts.sqlite";
const closed =
  "nobody can sign in and no node is let in until a copy is put in its place, or until drumlin user add and drumlin node add make new ones";

/** People, programs and nodes of the data folder. */
export function accountsPart(
  data: string,
  clock: Clock,
  journal: Giving<Journal>,
  log: (message: string) => void,
): Giving<Accounts> {
  let words: string | null = null;
  return definePart("accounts", {
    start() {
      const accounts = openAccounts({
        folder: data,
        now: clock.nowMs,
        elapsedMs: clock.engineMs,
        isFirstStart: journal.it.lastSeq === 0,
        onFault: (fault) => {
          words = faultWords(fault);
        },
        onTrouble: (trouble) =>
          log(
            trouble === null
              ? "accounts: written again"
              : `accounts: the disk does not take changes: ${trouble}. Who signs in now is forgotten at the next start. Look at the disk of ${data}.`,
          ),
      });
      // Whoever took the accounts away must not become the first one: no code is given, and nobody is trusted.
      if (accounts.isLost()) log(`accounts: ${file} ${words ?? "is lost"}: ${closed}. Data folder: ${data}`);
      else if (words !== null) log(`accounts: ${file} ${words}; what could be read was kept`);
      return accounts;
    },
    stop: (accounts) => accounts.close(),
    health(accounts) {
      if (accounts.trouble() !== null)
        return {
          state: "degraded",
          text: "the disk does not take changes; who signs in is forgotten at the next start",
        };
      if (accounts.isLost()) return { state: "degraded", text: `${file} ${words ?? "is lost"}: ${closed}` };
      return words === null
        ? good
        : { state: "degraded", text: `${file} ${words}; what could be read was kept` };
    },
  });
}
