import { chmodSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import type { AlarmView, LineView } from "@drumlin/gateway/contract";
import { connectAsync, type MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { actCommand } from "../../gateway/src/app/commands/act.ts";
import { drumlin } from "./command-line.ts";
import { eventually, newSite, startProcess } from "./gateway-process.ts";

// Real processes on a machine that may be busy: every wait below is for a condition.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

let site: Awaited<ReturnType<typeof newSite>>;
let gateway: Awaited<ReturnType<typeof startProcess>>;
beforeAll(async () => {
  site = await newSite(["press", "drums"]);
  gateway = await startProcess(site);
});
afterAll(async () => {
  expect(await gateway.stop()).toBe(0);
});

function client(node: string, password: string) {
  return connectAsync(
    `mqtt://127.0.0.1:${gateway.mqtt}`,
    {
      username: node,
      password,
      reconnectPeriod: 0,
      will: {
        topic: `drumlin/1/saltmarsh-house/${node}/presence`,
        payload: Buffer.from('{"state":"offline","boot":5}'),
        qos: 1,
        retain: true,
      },
    },
    false,
  );
}

/** Resolves when the connection is closed from the other side. */
const closing = (one: MqttClient) => new Promise<void>((resolve) => one.on("close", () => resolve()));
const at = (...args: string[]) => [...args, "--data", site.data];

describe("a node's secret, changed by another process beside a running gateway", () => {
  it("revoked: dropped at once, away by its will, and refused from then on", async () => {
    const drums = await client("drums", site.secrets.drums as string);
    await drums.publishAsync(
      "drumlin/1/saltmarsh-house/drums/presence",
      '{"state":"online","boot":5,"period_s":5}',
      { qos: 1, retain: true },
    );
    const press = await client("press", site.secrets.press as string);
    const closed = closing(drums);
    const { code, out } = await drumlin(at("node", "revoke", "drums"));
    expect([code, out]).toEqual([0, "drums may no longer sign in.\n"]);
    // That another process's change is known within a second is held by `another-process.test.ts`, which runs alone.
    await closed;
    const online = async () =>
      (await gateway.json<LineView>("/api/line")).nodes.find(({ id }) => id === "drums")?.online;
    expect(await eventually(online, (state) => state === false)).toBe(false);
    await expect(client("drums", site.secrets.drums as string)).rejects.toThrow();
    expect(press.connected).toBe(true);
    await press.endAsync();
    await expect
      .poll(async () => (await gateway.json<{ items: object[] }>("/api/rejections")).items)
      .toContainEqual(expect.objectContaining({ code: "secret-revoked", node: "drums" }));
  });

  it("rotated by the API: the session with the old secret is dropped, the new one signs in", async () => {
    const press = await client("press", site.secrets.press as string);
    const closed = closing(press);
    const answer = await gateway.api("/api/nodes/press/credentials", { method: "POST" });
    const { secret } = (await answer.json()) as { secret: string };
    await closed;
    await expect(client("press", site.secrets.press as string)).rejects.toThrow();
    const again = await client("press", secret);
    expect(again.connected).toBe(true);
    await again.endAsync();
  });
});

describe("the command line", () => {
  it("adds, lists and changes people; the first is an operator", async () => {
    const word = ["--password-stdin"];
    expect(await drumlin(at("user", "add", "Mara", ...word), "brackish mornings\n")).toMatchObject({
      code: 0,
      out: "Mara may sign in as operator.\n",
    });
    expect(await drumlin(at("user", "add", "Jonas", "--json", ...word), "brackish evenings\n")).toMatchObject(
      {
        code: 0,
        out: '{"name":"Jonas","role":"viewer"}\n',
      },
    );
    expect(await drumlin(at("user", "add", "mara", ...word), "brackish mornings\n")).toMatchObject({
      code: 1,
      errors: "name-taken: There is a mara already.\n",
    });
    expect(await drumlin(at("user", "remove", "Mara"))).toMatchObject({ code: 1 });
    expect(await drumlin(at("user", "add", "Ines"))).toMatchObject({ code: 2 });
    expect(await drumlin(at("user", "role", "Jonas", "--role", "keeper"))).toMatchObject({ code: 2 });
    expect(await drumlin(at("user", "role", "Jonas", "--role", "operator"))).toMatchObject({ code: 0 });
    expect(JSON.parse((await drumlin(at("user", "list", "--json"))).out)).toEqual([
      { name: "Jonas", role: "operator", disabled: false },
      { name: "Mara", role: "operator", disabled: false },
    ]);
    expect((await drumlin(["user", "list"])).code).toBe(2);
  });

  it("a token that it makes is let in at once, and no longer when it is revoked", async () => {
    const { out } = await drumlin(at("token", "add", "wall"));
    const asWall = (method: string, path: string) =>
      gateway.api(path, { method, headers: { authorization: `Bearer ${out.trim()}` } });
    expect((await asWall("GET", "/api/alarms")).status).toBe(200);
    expect((await asWall("GET", "/api/audit")).status).toBe(403);
    expect((await drumlin(at("token", "list"))).out).toBe("test  operator\nwall  viewer\n");
    // In this process: another one costs a second, and asks the same door.
    const act = (token: string) =>
      actCommand.run([
        "note",
        "text=new hose",
        "--json",
        "--token",
        token,
        "--url",
        `http://127.0.0.1:${gateway.http}`,
      ]);
    expect(await act(out.trim())).toBe(1);
    expect(await act(site.token)).toBe(0);
    expect(await gateway.json("/api/notes")).toMatchObject({
      items: [{ text: "new hose", by: "program:test" }],
    });
    // A stream that is open hears nothing more either.
    const stream = await asWall("GET", "/api/live");
    const ended = (async () => {
      for await (const _ of stream.body as unknown as AsyncIterable<Uint8Array>);
    })().catch(() => {});
    expect((await drumlin(at("token", "revoke", "wall"))).code).toBe(0);
    await ended;
    expect((await asWall("GET", "/api/alarms")).status).toBe(401);
    expect((await drumlin(at("token", "revoke", "wall"))).code).toBe(1);
  });

  it("nobody is let in without a name once somebody has one, and the audit tells all of it", async () => {
    expect((await fetch(`http://127.0.0.1:${gateway.http}/api/line`)).status).toBe(401);
    const { items } = await gateway.json<{ items: { by: string; what: string; subject: string }[] }>(
      "/api/audit",
    );
    expect(items.slice(0, 7).map(({ by, what, subject }) => `${by}: ${what} ${subject}`)).toEqual([
      "command line: token-revoked wall",
      "program:test: note ",
      "command line: token-added wall",
      "command line: role-changed Jonas",
      "command line: person-added Jonas",
      "command line: person-added Mara",
      "program:test: node-rotated press",
    ]);
  });
});

const resinLine = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 }, after-resin: { conductivity: { channel: press/ec-2, at25: true } } }
stages: { resin: { kind: resin, from: supply, to: after-resin, flow: press/flow-1 } }
`;

describe("an act on the line", () => {
  it("is signed with who did it, and stands in the audit with before and after", async () => {
    const own = await newSite(["press"], resinLine);
    const other = await startProcess(own);
    await expect
      .poll(other.printed)
      .toMatch(/No account yet\. Set-up code, for the first one: ([A-Z2-9]{4}-?){4}\n/);
    const press = await connectAsync(`mqtt://127.0.0.1:${other.mqtt}`, {
      username: "press",
      password: own.secrets.press as string,
    });
    for (const ago of [40, 30, 20, 10, 1]) {
      const t = Date.now() / 1000 - ago;
      const pack = [
        { n: "flow-1", u: "m3/s", v: 5e-5, t },
        { n: "ec-2", u: "S/m", v: 0.03, t },
      ];
      await press.publishAsync("drumlin/1/saltmarsh-house/press/readings", JSON.stringify(pack), { qos: 1 });
    }
    const standing = await eventually(
      () => other.json<{ items: AlarmView[] }>("/api/alarms"),
      ({ items }) => items.length > 0,
    );
    const path = "/api/alarms/resin-breakthrough:after-resin/acknowledge";
    const post = (occurrence: string) => ({
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ occurrence }),
    });
    const occurrence = standing.items[0]?.occurrence ?? "";
    expect((await other.api(path, post("999.1"))).status).toBe(409);
    expect((await other.api(path, post(occurrence))).status).toBe(200);
    const { items } = await other.json<{ items: Record<string, unknown>[] }>("/api/audit");
    const common = { by: "program:test", what: "acknowledge", subject: "resin-breakthrough:after-resin" };
    expect(items.slice(0, 2)).toMatchObject([
      {
        ...common,
        refused: null,
        before: { state: "unacknowledged" },
        after: { occurrence, state: "acknowledged" },
      },
      { ...common, refused: "occurrence-changed", before: null },
    ]);
    const nobody = await fetch(`http://127.0.0.1:${other.http}${path}`, post(occurrence));
    expect([nobody.status, ((await nobody.json()) as { code: string }).code]).toEqual([
      403,
      "account-needed",
    ]);
    await press.endAsync();
    expect(await other.stop()).toBe(0);
  });
});

describe("what is kept", () => {
  it("is its owner's alone, also what an earlier version left open", async () => {
    const own = await newSite(["press"]);
    chmodSync(join(own.data, "accounts.sqlite"), 0o644);
    chmodSync(own.line, 0o644);
    const other = await startProcess(own);
    await expect.poll(other.printed).toContain("could be read by other users; now they can't");
    const files = readdirSync(own.data, { recursive: true, withFileTypes: true }).filter((entry) =>
      entry.isFile(),
    );
    expect(files.length).toBeGreaterThan(4);
    const modeOf = (path: string) => statSync(path).mode & 0o777;
    expect(files.filter(({ parentPath, name }) => (modeOf(join(parentPath, name)) & 0o077) !== 0)).toEqual(
      [],
    );
    // The line file stays as it was, also when a page saves it.
    const { yaml, version } = await other.json<{ yaml: string; version: string }>("/api/line/file");
    const saved = await other.api("/api/line/file", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ yaml: `${yaml}# saved\n`, version }),
    });
    expect(saved.status).toBe(200);
    expect(modeOf(own.line)).toBe(0o644);
    expect(await other.stop()).toBe(0);
  });
});
