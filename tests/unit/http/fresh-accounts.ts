import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Accounts, openAccounts } from "@drumlin/gateway/accounts";
import { createHttp, type HttpOptions } from "@drumlin/gateway/http";
import { afterEach, beforeEach } from "vitest";
import { noComponents } from "./no-components.ts";

/** Whom most tests sign in. */
export const mara = { name: "Mara", password: "brackish mornings" };

/** Accounts that are begun anew for each test, and a server over them where one is started; both end with it. */
export function freshAccounts() {
  let accounts: Accounts;
  let http: Awaited<ReturnType<typeof createHttp>> | null = null;
  beforeEach(() => {
    accounts = openAccounts({ folder: mkdtempSync(join(tmpdir(), "drumlin-first-")), now: Date.now });
  });
  afterEach(async () => {
    await http?.stop();
    http = null;
    accounts.close();
  });
  return {
    accounts: () => accounts,
    /** Starts the server; gives its port. */
    async start(options: Partial<HttpOptions> = {}): Promise<number> {
      const asked = { host: "127.0.0.1", port: 0, pages: null, ...options };
      http = await createHttp(noComponents(accounts), asked);
      return http.port;
    },
  };
}

/** Posts a body to the server at a port. */
export const post = (port: number, path: string, body: unknown, headers = {}): Promise<Response> =>
  fetch(`http://127.0.0.1:${port}${path}`, {
    method: "POST",
    headers: { "content-type": "application/json", ...headers },
    body: JSON.stringify(body),
  });
