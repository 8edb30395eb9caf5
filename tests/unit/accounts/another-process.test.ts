import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import { expect, it } from "vitest";

it("what another process changes is noticed within a second", async () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-accounts-"));
  const accounts = openAccounts({ folder, now: Date.now });
  try {
    let told = 0;
    accounts.onChange(() => (told += 1));
    const other = openAccounts({ folder, now: Date.now });
    // What the secret's hash costs is not waited for.
    await other.nodes.put("press", "command line");
    const beganMs = performance.now();
    other.close();
    await expect.poll(() => told, { interval: 20 }).toBeGreaterThan(0);
    expect(performance.now() - beganMs).toBeLessThan(1000);
    expect(accounts.nodes.names()).toEqual(["press"]);
  } finally {
    accounts.close();
  }
});
