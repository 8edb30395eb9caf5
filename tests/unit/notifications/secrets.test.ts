import { chmodSync, mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openSecrets, SecretError } from "@drumlin/gateway/notifications";
import { describe, expect, it } from "vitest";

const data = mkdtempSync(join(tmpdir(), "drumlin-secrets-"));
const secrets = openSecrets(data, {});

describe("secrets", () => {
  it("are refused when others may read them, and named when they are missing", () => {
    mkdirSync(join(data, "secrets"), { recursive: true });
    writeFileSync(join(data, "secrets", "open"), "hunter2", { mode: 0o644 });
    chmodSync(join(data, "secrets", "open"), 0o644);
    expect(() => secrets.get("open")).toThrow(
      new SecretError("Others may read secrets/open: give it mode 0600."),
    );
    chmodSync(join(data, "secrets", "open"), 0o600);
    expect(secrets.get("open")).toBe("hunter2");
    expect(() => secrets.get("smtp-password")).toThrow("DRUMLIN_SECRET_SMTP_PASSWORD");
    expect(() => secrets.get("../accounts.sqlite")).toThrow("is no name of a secret");
  });
});
