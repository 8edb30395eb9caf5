import { scryptSync } from "node:crypto";
import { mkdtempSync, readdirSync, readFileSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { type Accounts, idleMs, longestMs } from "@drumlin/gateway/accounts";
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

describe("what is kept", () => {
  it("no password, secret, token or session stands in the folder, and only its owner reads it", async () => {
    await addMara();
    const { secret } = await accounts.signIn(mara);
    const told = [
      mara.password,
      secret,
      accounts.tokens.add("wall", "viewer", "test"),
      await accounts.nodes.put("press", "test"),
    ];
    const files = readdirSync(folder);
    expect(files).toContain("accounts.sqlite");
    for (const file of files) {
      const bytes = readFileSync(join(folder, file));
      for (const text of told) expect(bytes.includes(text)).toBe(false);
      if (process.platform !== "win32") expect(statSync(join(folder, file)).mode & 0o077).toBe(0);
    }
  });
});

describe("the audit", () => {
  it("is not filled by what anybody can do again and again; what changed an account stays", async () => {
    await addMara();
    const settings = {
      language: "auto",
      numbers: "auto",
      conductivity: "uS/cm",
      volume: "L",
      temperature: "Cel",
    } as const;
    for (let times = 0; times < 420; times += 1)
      accounts.people.setSettings("Mara", { ...settings, volume: times % 2 === 0 ? "L" : "gal" }, "Mara");
    for (let times = 0; times < 20; times += 1) accounts.people.setSettings("Mara", settings, "Mara");
    const kept = accounts.audit(10_000).map(({ what }) => what);
    expect(kept.filter((what) => what === "settings-changed")).toHaveLength(200);
    expect(kept).toContain("person-added");
    // The last one changed something, the 19 after it did not.
    expect(accounts.audit(2).map(({ after }) => after?.volume)).toEqual(["L", "gal"]);
  });
});

describe("people", () => {
  it.each([
    ["", "name-not-usable"],
    ["a:b", "name-not-usable"],
    [" Mara", "name-not-usable"],
    ["x".repeat(41), "name-not-usable"],
    ["Gateway", "name-not-usable"],
    ["command line", "name-not-usable"],
    ["Set-Up Code", "name-not-usable"],
    ["Nobody", "name-not-usable"],
    ["192.0.2.7", "name-not-usable"],
    ["MARA", "name-taken"],
    ["ｍａｒａ", "name-taken"],
  ])("the name %j is refused: %s", async (name, code) => {
    await addMara();
    expect(
      await codeOf(() => accounts.people.add({ name, role: "viewer", password: mara.password, by: "test" })),
    ).toBe(code);
  });

  it.each(["", "nine char", "x".repeat(1025)])(
    "a password of %#: too short or too long",
    async (password) => {
      expect(await codeOf(() => accounts.people.add({ ...mara, password, role: "viewer", by: "test" }))).toBe(
        "password-not-usable",
      );
    },
  );

  it.each([
    "1234567890",
    "qwertyuiop",
    "Password2026!",
    "aaaaaaaaaabb",
    "mara mara mara",
    "MARA-12345678",
    "drumlin-drumlin",
    "my drumlin 26",
  ])("%j is guessed early, and refused for Mara", async (password) => {
    expect(await codeOf(() => accounts.people.add({ ...mara, password, role: "viewer", by: "test" }))).toBe(
      "password-not-usable",
    );
    await addMara();
    expect(await codeOf(() => accounts.people.setPassword("mara", password, "test"))).toBe(
      "password-not-usable",
    );
  });

  it.each(["maritime mornings", "four lumpy eels swim", "rL9#kd2!vQ", "samara evening tide"])(
    "%j is taken",
    async (password) => {
      await accounts.people.add({ ...mara, password, role: "viewer", by: "test" });
      expect(await accounts.people.check("Mara", password)).toMatchObject({ name: "Mara" });
    },
  );

  it("signs in with letters composed in either way", async () => {
    await accounts.people.add({ ...mara, password: "Sch\u00fctteb\u00f6rn", role: "viewer", by: "test" });
    expect(await accounts.people.check("mara", "Schu\u0308ttebo\u0308rn")).toMatchObject({ name: "Mara" });
    expect(await accounts.people.check("mara", "Schutteborn")).toBeNull();
  });

  it("the last operator stays", async () => {
    await addMara();
    expect(await codeOf(() => accounts.people.remove("Mara", "test"))).toBe("last-operator");
    expect(await codeOf(() => accounts.people.setRole("Mara", "viewer", "test"))).toBe("last-operator");
    await accounts.people.add({ ...mara, name: "Jonas", role: "operator", by: "test" });
    accounts.people.remove("Mara", "Jonas");
    expect(accounts.people.list().map(({ name }) => name)).toEqual(["Jonas"]);
  });
});

describe("sessions", () => {
  it("end two weeks after their last use, and 90 days after their begin", async () => {
    await addMara();
    const secret = accounts.sessions.begin("Mara");
    const beganMs = nowMs;
    for (; nowMs - beganMs + idleMs / 2 <= longestMs; nowMs += idleMs / 2)
      expect(accounts.sessions.find(secret)).toMatchObject({ name: "Mara", role: "operator" });
    nowMs = beganMs + longestMs + 1;
    expect(accounts.sessions.find(secret)).toBeNull();
    const other = accounts.sessions.begin("Mara");
    nowMs += idleMs + 1;
    expect(accounts.sessions.find(other)).toBeNull();
  });

  it("a role changed is a role changed at once, and a person removed is signed out", async () => {
    await addMara();
    await accounts.people.add({ ...mara, name: "Jonas", role: "operator", by: "test" });
    const secret = accounts.sessions.begin("Jonas");
    accounts.people.setRole("Jonas", "viewer", "Mara");
    expect(accounts.sessions.find(secret)).toMatchObject({ role: "viewer" });
    accounts.people.remove("Jonas", "Mara");
    expect(accounts.sessions.find(secret)).toBeNull();
  });

  it("twenty of one person are kept", async () => {
    await addMara();
    const secrets = Array.from({ length: 25 }, () => {
      nowMs += 1000;
      return accounts.sessions.begin("Mara");
    });
    expect(secrets.map((secret) => accounts.sessions.find(secret) !== null)).toEqual(
      secrets.map((_, place) => place >= 5),
    );
  });
});

describe("guessing is slow, and nobody is shut out", () => {
  const guess = (more: object = {}) =>
    codeOf(() => accounts.signIn({ ...mara, password: "a guess", ...more }));

  it("one address gets 30 tries of all names at once, then one in 20 s; another address goes on", async () => {
    await addMara();
    const answers: (string | undefined)[] = [];
    for (let number = 0; number < 32; number += 1) answers.push(await guess({ name: `name${number}` }));
    expect(answers.filter((code) => code === "sign-in-wrong")).toHaveLength(30);
    expect(answers.slice(30)).toEqual(["too-many-sign-ins", "too-many-sign-ins"]);
    expect(await codeOf(() => accounts.signIn({ ...mara, address: "192.0.2.8" }))).toBe("no refusal");
    nowMs += 20_000;
    expect(await codeOf(() => accounts.signIn(mara))).toBe("no refusal");
  });

  it("40 right ones from one address are all let in", async () => {
    await addMara();
    for (let number = 0; number < 40; number += 1) {
      nowMs += 1000;
      expect(await codeOf(() => accounts.signIn(mara))).toBe("no refusal");
    }
  });

  it("100 wrong ones from everywhere lock no name: a minute later it is tried again, a known device at once", async () => {
    await addMara();
    const { device } = await accounts.signIn(mara);
    for (let number = 0; number < 100; number += 1)
      expect(await guess({ address: `198.51.100.${number}` })).toBe("sign-in-wrong");
    expect(await codeOf(() => accounts.signIn(mara))).toBe("too-many-sign-ins");
    expect(await codeOf(() => accounts.signIn({ ...mara, device }))).toBe("no refusal");
    expect(await codeOf(() => accounts.signIn({ ...mara, device: "of nobody" }))).toBe("too-many-sign-ins");
    nowMs += 60_000;
    expect(await codeOf(() => accounts.signIn(mara))).toBe("no refusal");
  });

  it("a known device has its own five tries, opens nothing by itself, and is known for its person only", async () => {
    await addMara();
    await accounts.people.add({ ...mara, name: "Jonas", role: "viewer", by: "test" });
    const { device } = await accounts.signIn(mara);
    for (let number = 0; number < 5; number += 1) expect(await guess({ device })).toBe("sign-in-wrong");
    expect(await guess({ device })).toBe("too-many-sign-ins");
    // Others at that address are not held up by it, and it is nobody's way to another name.
    for (let number = 0; number < 5; number += 1)
      expect(await guess({ device, name: "Jonas" })).toBe("sign-in-wrong");
    expect(await guess({ device, name: "Jonas" })).toBe("too-many-sign-ins");
    accounts.people.remove("Jonas", "Mara");
  });

  it("the addresses of one IPv6 network are one", async () => {
    await addMara();
    const from = (address: string) =>
      codeOf(() => accounts.signIn({ ...mara, password: "a guess", address }));
    for (let number = 1; number <= 5; number += 1)
      expect(await from(`2001:db8::${number}`)).toBe("sign-in-wrong");
    expect(await from("2001:db8:0:0:ffff::1")).toBe("too-many-sign-ins");
    expect(await from("2001:db8:0:1::1")).toBe("sign-in-wrong");
    expect(await from("::ffff:192.0.2.7")).toBe("sign-in-wrong");
  });
});

describe("nodes", () => {
  it("a new secret ends the old one", async () => {
    const old = Buffer.from(await accounts.nodes.put("press", "test"));
    expect(await accounts.nodes.verify("press", old)).toBe(true);
    expect(await accounts.nodes.verify("press", old)).toBe(true);
    const before = accounts.nodes.inForce("press");
    const fresh = Buffer.from(await accounts.nodes.put("press", "test"));
    expect(accounts.nodes.inForce("press")).not.toBe(before);
    expect(await accounts.nodes.verify("press", old)).toBe(false);
    expect(await accounts.nodes.verify("press", fresh)).toBe(true);
    accounts.nodes.revoke("press", "test");
    expect(await accounts.nodes.verify("press", fresh)).toBe(false);
    expect(accounts.nodes.inForce("press")).toBeNull();
  });

  it("a thousand wrong secrets cost no more than a moment", async () => {
    await accounts.nodes.put("press", "test");
    // The processor's time, of all threads: what others do on the machine counts not.
    const begun = process.cpuUsage();
    for (let number = 0; number < 1000; number += 1)
      expect(await accounts.nodes.verify(number % 2 ? "press" : "pump", Buffer.from("wrong"))).toBe(false);
    // Some 40 s as it was, with scrypt for each.
    const { user, system } = process.cpuUsage(begun);
    expect((user + system) / 1000).toBeLessThan(2000);
  });

  it("a secret that an earlier version stored as scrypt is taken, and quick from then on", async () => {
    const secret = Buffer.from("t6Wq0c9pXhYfVb2mZr8AeQ");
    const salt = Buffer.alloc(16, 7);
    const hash = scryptSync(secret, salt, 32, { N: 2 ** 14, r: 8, p: 1, maxmem: 64 << 20 });
    const stored = ["scrypt", 14, 8, 1, salt.toString("base64"), hash.toString("base64")].join("$");
    const file = new DatabaseSync(join(folder, "accounts.sqlite"));
    file.prepare("INSERT INTO node (name, hash, made_at) VALUES ('pump', ?, 1)").run(stored);
    const before = accounts.nodes.inForce("pump");
    expect(accounts.nodes.isCostly("pump")).toBe(true);
    expect(await accounts.nodes.verify("pump", Buffer.from("wrong"))).toBe(false);
    expect(accounts.nodes.isCostly("pump")).toBe(true);
    expect(await accounts.nodes.verify("pump", secret)).toBe(true);
    expect(accounts.nodes.isCostly("pump")).toBe(false);
    // A session that is open goes on: it is the same secret.
    expect(accounts.nodes.inForce("pump")).toBe(before);
    expect(await accounts.nodes.verify("pump", secret)).toBe(true);
    expect(await accounts.nodes.verify("pump", Buffer.from("wrong"))).toBe(false);
    file.close();
  });
});
