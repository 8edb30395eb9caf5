import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { AccountError, openAccounts } from "@drumlin/gateway/accounts";
import { afterEach, beforeEach, describe, expect, it } from "vitest";

const by = "Ines";
let accounts: ReturnType<typeof openAccounts>;
beforeEach(async () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-disabled-"));
  accounts = openAccounts({ folder, now: () => 1_000_000, cost: { log2N: 4, r: 8, p: 1 } });
  await accounts.people.add({ name: "Ines", role: "operator", password: "a heron stands still", by });
  await accounts.people.add({ name: "Odil", role: "operator", password: "three otters swim by", by });
});
afterEach(() => accounts.close());

const enter = (name: string, password: string) =>
  accounts.signIn({ name, password, address: "192.0.2.1", device: null });
const codeOf = async (work: () => unknown) => {
  try {
    await work();
    return "no refusal";
  } catch (error) {
    return error instanceof AccountError ? error.code : error;
  }
};

describe("somebody who may sign in no more", () => {
  it("is out at once, is refused with the right password, and comes back when let in again", async () => {
    const { secret } = await enter("Odil", "three otters swim by");
    expect(accounts.sessions.find(secret)).toMatchObject({ name: "Odil" });
    accounts.people.setDisabled("odil", true, by);
    expect(accounts.sessions.find(secret)).toBeNull();
    expect(accounts.people.list()).toMatchObject([
      { name: "Ines", isDisabled: false },
      { name: "Odil", isDisabled: true },
    ]);
    expect(await codeOf(() => enter("Odil", "three otters swim by"))).toBe(
      await codeOf(() => enter("Odil", "some other words here")),
    );
    accounts.people.setDisabled("Odil", false, by);
    expect((await enter("Odil", "three otters swim by")).person.name).toBe("Odil");
    const what = accounts.audit(20).map((entry) => entry.what);
    expect(what).toContain("person-disabled");
    expect(what).toContain("person-enabled");
  });
  it("is no operator who could stand in for the last one", async () => {
    accounts.people.setDisabled("Odil", true, by);
    expect(await codeOf(() => accounts.people.setDisabled("Ines", true, by))).toBe("last-operator");
    expect(await codeOf(() => accounts.people.remove("Ines", by))).toBe("last-operator");
    expect(await codeOf(() => accounts.people.setRole("Ines", "viewer", by))).toBe("last-operator");
    // Whoever is disabled may go: nobody is locked out by it.
    expect(await codeOf(() => accounts.people.remove("Odil", by))).toBe("no refusal");
  });
  it("ending sessions leaves the person", async () => {
    const { secret } = await enter("Odil", "three otters swim by");
    accounts.people.endSessions("Odil", by);
    expect(accounts.sessions.find(secret)).toBeNull();
    expect((await enter("Odil", "three otters swim by")).person.name).toBe("Odil");
  });
});
