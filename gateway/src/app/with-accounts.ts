import { AccountError, type Accounts, openAccounts, type Role, roles } from "../accounts/index.ts";
import { requireWholeFolder } from "./backup/whole-folder.ts";
import { wallMs } from "./host-time.ts";
import { UsageError } from "./options.ts";

/** How the audit names what was done at a terminal. */
export const byCommandLine = "command line";

/** Opens the accounts of a data folder for one command. Exit code 1 for what the accounts refuse, said in one line. */
export async function withAccounts(
  data: string | undefined,
  work: (accounts: Accounts) => Promise<void> | void,
): Promise<number> {
  if (!data) throw new UsageError("--data is needed.");
  requireWholeFolder(data);
  const accounts = openAccounts({ folder: data, now: wallMs });
  try {
    await work(accounts);
    return 0;
  } catch (error) {
    if (!(error instanceof AccountError)) throw error;
    if (error.code === "name-not-usable") throw new UsageError(error.message);
    console.error(`${error.code}: ${error.message}`);
    return 1;
  } finally {
    accounts.close();
  }
}

/** A role by its name. Throws UsageError. */
export function roleOf(text: string | undefined): Role | null {
  if (text === undefined) return null;
  const role = roles.find((candidate) => candidate === text);
  if (!role) throw new UsageError(`--role ${text}: say viewer or operator.`);
  return role;
}
