import { type Accounts, openAccounts } from "@drumlin/gateway/accounts";

/** The person whom these tests know. */
export const mara = { name: "Mara", password: "brackish mornings", address: "192.0.2.7" };

/** Makes her an operator. */
export const addTo = (accounts: Accounts) => accounts.people.add({ ...mara, role: "operator", by: "test" });

/** Accounts whose passwords cost next to nothing. */
export const openCheaply = (folder: string, now: () => number) =>
  openAccounts({ folder, now, cost: { log2N: 4, r: 8, p: 1 } });

/** The code of a refusal. */
export const codeOf = (work: () => unknown): Promise<string | undefined> =>
  Promise.resolve()
    .then(work)
    .then(
      () => "no refusal",
      (error: { code?: string }) => error.code,
    );
