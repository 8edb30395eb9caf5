import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Accounts } from "@drumlin/gateway/accounts";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { addTo, codeOf, mara, openCheaply } from "./mara.ts";

let folder: string;
let nowMs: number;
let accounts: Accounts;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-accounts-"));
  nowMs = Date.parse("2026-03-01T08:00:00Z");
  accounts = openCheaply(folder, () => nowMs);
});
afterEach(() => accounts.close());

const addMara = () => addTo(accounts);

describe("accounts that are lost", () => {
  const again = () => openCheaply(folder, () => nowMs);
  beforeEach(async () => {
    await addMara();
    accounts.close();
    // A gateway has run here.
    writeFileSync(join(folder, "journal-000000000001.sqlite"), "");
    rmSync(join(folder, "accounts.sqlite"));
    accounts = again();
  });

  it("let nobody be the first one, with any code and after any number of starts", async () => {
    for (let start = 0; start < 3; start += 1) {
      expect(accounts.isLost()).toBe(true);
      expect(accounts.people.exist()).toBe(true);
      const code = accounts.newSetUpCode();
      expect(await codeOf(() => accounts.setUp({ ...mara, code }))).toBe("set-up-done");
      expect(await codeOf(() => accounts.signIn(mara))).toBe("sign-in-wrong");
      accounts.close();
      accounts = again();
    }
  });

  it("are begun anew at the terminal, and are lost no longer", async () => {
    await addMara();
    expect(accounts.isLost()).toBe(false);
    expect((await accounts.signIn(mara)).person.role).toBe("operator");
    accounts.close();
    accounts = again();
    expect(accounts.isLost()).toBe(false);
  });

  it("of a folder in which no gateway has run are not lost: its first account is still to be made", async () => {
    accounts.close();
    rmSync(join(folder, "accounts.sqlite"));
    rmSync(join(folder, "journal-000000000001.sqlite"));
    accounts = again();
    expect(accounts.people.exist()).toBe(false);
    const code = accounts.newSetUpCode();
    expect((await accounts.setUp({ ...mara, code })).role).toBe("operator");
  });
});
