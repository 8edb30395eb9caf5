import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import { createHttp } from "@drumlin/gateway/http";
import { afterAll, beforeAll } from "vitest";
import { noComponents } from "./no-components.ts";

/** The API of a gateway that has nothing yet, for the tests of a file, with the pages of a folder; whoever asks has that role. */
export function bareApi(role: "viewer" | "operator", pages: string | null = null): { readonly port: number } {
  const accounts = openAccounts({ folder: mkdtempSync(join(tmpdir(), "drumlin-http-")), now: Date.now });
  let http: Awaited<ReturnType<typeof createHttp>> | null = null;
  beforeAll(async () => {
    http = await createHttp(noComponents(accounts), {
      host: "127.0.0.1",
      port: 0,
      pages,
      signedIn: { kind: "person", name: "keeper", role },
    });
  });
  afterAll(async () => {
    await http?.stop();
    accounts.close();
  });
  return {
    get port() {
      if (http === null) throw new Error("The API is there from the first test on, not before.");
      return http.port;
    },
  };
}
