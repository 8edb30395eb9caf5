import type { Me } from "@drumlin/gateway/contract";
import { describe, expect, it } from "vitest";
import { freshAccounts, mara, post } from "./fresh-accounts.ts";

const { accounts, start } = freshAccounts();

describe("accounts over HTTP", () => {
  it("people, roles, tokens and secrets are made, changed and taken away, each in the audit with who and what", async () => {
    await accounts().people.add({ ...mara, role: "operator", by: "test" });
    const port = await start();
    const signedIn = await post(port, "/api/sign-in", mara);
    const headers = { cookie: signedIn.headers.get("set-cookie")?.split(";")[0] as string };
    const call = async (method: string, path: string, body?: unknown) => {
      const answer = await fetch(`http://127.0.0.1:${port}${path}`, {
        method,
        headers: { ...headers, ...(body ? { "content-type": "application/json" } : {}) },
        ...(body ? { body: JSON.stringify(body) } : {}),
      });
      return [answer.status, await answer.json()] as [number, Record<string, unknown>];
    };
    const jonas = { name: "Jonas", role: "viewer", password: "brackish evenings" };
    expect(await call("POST", "/api/people", jonas)).toMatchObject([
      200,
      { items: [{ name: "Jonas" }, { name: "Mara" }] },
    ]);
    expect(await call("POST", "/api/people", { ...jonas, name: "JONAS" })).toMatchObject([
      409,
      { code: "name-taken" },
    ]);
    expect(await call("POST", "/api/people/Mara/role", { role: "viewer" })).toMatchObject([
      409,
      { code: "last-operator" },
    ]);
    expect(await call("POST", "/api/people/jonas/role", { role: "operator" })).toMatchObject([200, {}]);
    expect(await call("DELETE", "/api/people/Jonas")).toMatchObject([200, { items: [{ name: "Mara" }] }]);
    const [, token] = await call("POST", "/api/tokens", { name: "wall", role: "viewer" });
    expect(token.token).toMatch(/^drumlin_[\w-]{43}$/);
    const withToken = () =>
      fetch(`http://127.0.0.1:${port}/api/alarms`, { headers: { authorization: `Bearer ${token.token}` } });
    expect((await withToken()).status).toBe(200);
    expect((await call("DELETE", "/api/tokens/wall"))[0]).toBe(200);
    expect((await withToken()).status).toBe(401);
    const [, node] = await call("POST", "/api/nodes/press/credentials");
    expect(await accounts().nodes.verify("press", Buffer.from(node.secret as string))).toBe(true);
    expect((await call("DELETE", "/api/nodes/press/credentials"))[0]).toBe(200);
    expect((await call("POST", "/api/nodes/gateway/credentials"))[0]).toBe(400);
    const [, audit] = await call("GET", "/api/audit");
    const items = audit.items as {
      by: string;
      what: string;
      subject: string;
      before: unknown;
      after: unknown;
    }[];
    expect(items.map(({ by, what, subject, before, after }) => [by, what, subject, before, after])).toEqual([
      ["Mara", "node-revoked", "press", null, null],
      ["Mara", "node-added", "press", null, null],
      ["Mara", "token-revoked", "wall", { role: "viewer" }, null],
      ["Mara", "token-added", "wall", null, { role: "viewer" }],
      ["Mara", "person-removed", "Jonas", { role: "operator" }, null],
      ["Mara", "role-changed", "Jonas", { role: "viewer" }, { role: "operator" }],
      ["Mara", "person-added", "Jonas", null, { role: "viewer" }],
      ["Mara", "sign-in", "Mara", null, null],
      ["test", "person-added", "Mara", null, { role: "operator" }],
    ]);
    const [, first] = await call("GET", "/api/audit?limit=4");
    const [, second] = await call("GET", `/api/audit?limit=4&after=${first.next}`);
    expect([...(first.items as unknown[]), ...(second.items as unknown[])]).toEqual(items.slice(0, 8));
  });

  it("what a person chose of pages follows them to another device, and stands in the audit", async () => {
    await accounts().people.add({ ...mara, role: "viewer", by: "test" });
    const port = await start();
    const session = () => ({ cookie: `drumlin-0=${accounts().sessions.begin("Mara")}` });
    const [phone, desk] = [session(), session()];
    const chosen = {
      language: "de",
      numbers: "auto",
      conductivity: "mg/L",
      volume: "L",
      temperature: "Cel",
    };
    const settingsOf = async (headers: { cookie: string }) =>
      ((await (await fetch(`http://127.0.0.1:${port}/api/me`, { headers })).json()) as Me).settings;
    expect(await settingsOf(desk)).toBeNull();
    expect((await post(port, "/api/me/settings", chosen, phone)).status).toBe(200);
    expect(await settingsOf(desk)).toEqual(chosen);
    expect((await post(port, "/api/me/settings", { ...chosen, volume: "firkin" }, phone)).status).toBe(400);
    expect((await post(port, "/api/me/settings", { ...chosen, volume: "gal" }, phone)).status).toBe(200);
    const program = { authorization: `Bearer ${accounts().tokens.add("wall", "viewer", "test")}` };
    expect((await post(port, "/api/me/settings", chosen, program)).status).toBe(403);
    const changes = accounts()
      .audit(10)
      .filter(({ what }) => what === "settings-changed");
    expect(changes.map(({ by, subject, before, after }) => [by, subject, before, after])).toEqual([
      ["Mara", "Mara", chosen, { ...chosen, volume: "gal" }],
      ["Mara", "Mara", null, chosen],
    ]);
  });

  it("a new password ends every session but the one that changed it", async () => {
    await accounts().people.add({ ...mara, role: "operator", by: "test" });
    const port = await start();
    const other = accounts().sessions.begin("Mara");
    const here = { cookie: `drumlin-0=${accounts().sessions.begin("Mara")}` };
    const wrong = await post(
      port,
      "/api/me/password",
      { current: "not this one", password: "saltmarsh at noon" },
      here,
    );
    expect(wrong.status).toBe(401);
    const done = await post(
      port,
      "/api/me/password",
      { current: mara.password, password: "saltmarsh at noon" },
      here,
    );
    expect(done.status).toBe(200);
    expect(accounts().sessions.find(other)).toBeNull();
    const fresh = { cookie: done.headers.get("set-cookie")?.split(";")[0] as string };
    expect((await fetch(`http://127.0.0.1:${port}/api/alarms`, { headers: fresh })).status).toBe(200);
    expect((await post(port, "/api/sign-in", mara)).status).toBe(401);
  });
});
