import { mkdirSync, mkdtempSync, readFileSync, statSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readLineFile } from "@drumlin/gateway/alarms";
import type { Line } from "@drumlin/gateway/line";
import { openSecrets } from "@drumlin/gateway/notifications";
import { beforeEach, describe, expect, it } from "vitest";

const good = "mail.house.example";
const evil = "mail.elsewhere.example";
const relay = "https://relay.example";

/** A line whose mail goes to a server, and whose webhook to an address. */
function lineOf(
  server: string,
  { security = "starttls", url = `${relay}/in/{secret:relay-topic}` } = {},
): Line {
  const read = readLineFile(`drumlin: 1
site: a
points: { supply: { conductivity: n/c } }
notify:
  mail: { server: ${server}, user: drumlin, from: drumlin@house.example, security: ${security} }
  to: { mara: { mail: mara@house.example }, relay: { webhook: { url: "${url}", form: text } } }
`);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.line;
}

let data = "";
let line: Line | null = null;
let writings = 0;
/** Writes a secret's file, each time at another moment. */
function write(secret: string, value: string): void {
  const path = join(data, "secrets", secret);
  writeFileSync(path, value, { mode: 0o600 });
  writings += 1;
  utimesSync(path, 1_700_000_000 + writings, 1_700_000_000 + writings);
}
const open = (environment = {}) => {
  const secrets = openSecrets(data, environment, () => line);
  secrets.lookAtLine();
  return secrets;
};

beforeEach(() => {
  data = mkdtempSync(join(tmpdir(), "drumlin-hosts-"));
  mkdirSync(join(data, "secrets"));
  line = lineOf(good);
});

describe("a secret goes to the host for which it was given", () => {
  it("and not to the one of a changed line, also after a restart; written anew it goes there, and no longer here", () => {
    write("smtp-password", "sm7p");
    const secrets = open();
    line = lineOf(evil);
    const refused = `The secret smtp-password was given for ${good}: it is not sent to ${evil}. Where that is meant, write secrets/smtp-password anew.`;
    expect(() => secrets.getFor("smtp-password", evil)).toThrow(refused);
    expect(() => open().getFor("smtp-password", evil)).toThrow(refused);
    expect(open().getFor("smtp-password", good)).toBe("sm7p");
    write("smtp-password", "sm7p");
    expect(secrets.getFor("smtp-password", evil)).toBe("sm7p");
    expect(() => open().getFor("smtp-password", good)).toThrow(`was given for ${evil}`);
  });

  it("one that is written while the gateway runs, and never sent, was given for what the line named then", () => {
    const secrets = open();
    write("smtp-password", "sm7p");
    line = lineOf(evil);
    secrets.lookAtLine();
    expect(() => secrets.getFor("smtp-password", evil)).toThrow(`was given for ${good}`);
  });

  it("a way that is safe no longer is another way", () => {
    write("smtp-password", "sm7p");
    const secrets = open();
    line = lineOf(good, { security: "none" });
    expect(() => secrets.getFor("smtp-password", `${good} without TLS`)).toThrow(`was given for ${good}`);
  });

  it("one in the environment is given anew by another value", () => {
    const variable = (value: string) => ({ DRUMLIN_SECRET_SMTP_PASSWORD: value });
    open(variable("one"));
    line = lineOf(evil);
    expect(() => open(variable("one")).getFor("smtp-password", evil)).toThrow(
      "give DRUMLIN_SECRET_SMTP_PASSWORD another value, or remove secrets/.hosts.json",
    );
    expect(open(variable("two")).getFor("smtp-password", evil)).toBe("two");
  });

  it("one of a webhook goes to any address of its host, with its port and its safe way, and to no other", () => {
    write("relay-topic", "t0pic");
    const secrets = open();
    expect(secrets.getFor("relay-topic", relay)).toBe("t0pic");
    for (const other of ["https://elsewhere.example", `${relay}:8443`, "http://relay.example"]) {
      line = lineOf(good, { url: `${other}/{secret:relay-topic}` });
      expect(() => secrets.getFor("relay-topic", other)).toThrow(`was given for ${relay}`);
    }
  });

  it("what is remembered is its owner's alone, and tells no secret", () => {
    write("smtp-password", "sm7p-s3cret");
    open();
    const path = join(data, "secrets", ".hosts.json");
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(readFileSync(path, "utf8")).toContain(good);
    expect(readFileSync(path, "utf8")).not.toContain("s3cret");
  });
});
