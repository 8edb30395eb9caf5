import { readdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import type { LineView, Problem } from "@drumlin/gateway/contract";
import { connectAsync } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { eventually, newSite, smallestLine, startProcess } from "./gateway-process.ts";

let site: Awaited<ReturnType<typeof newSite>>;
let gateway: Awaited<ReturnType<typeof startProcess>>;
beforeAll(async () => {
  site = await newSite(["press"], `# our own words\n${smallestLine}`);
  gateway = await startProcess(site);
});
afterAll(async () => {
  expect(await gateway.stop()).toBe(0);
});

const post = (path: string, body: object) =>
  gateway.api(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });
const file = () => gateway.json<{ yaml: string; version: string }>("/api/line/file");
const limit = async () =>
  (await gateway.json<LineView>("/api/line")).points.find(({ id }) => id === "after-resin")?.limit;

describe("the line file, from a page", () => {
  it("one limit is set: in force at once, comments kept, the old file beside it", async () => {
    expect(await limit()).toBe(5);
    const { version } = await file();
    const body = { condition: "resin-breakthrough", subject: "after-resin", limit: 2, version };
    const answer = await post("/api/line/limits", body);
    expect(answer.status).toBe(200);
    expect(await limit()).toBe(2);
    const text = readFileSync(site.line, "utf8");
    expect(text).toContain("# our own words");
    expect(text).toContain("resin-breakthrough:after-resin");
    const beside = readdirSync(site.folder).filter((name) => name.startsWith("line.yaml.before-"));
    expect(beside).toHaveLength(1);
    // Who changed it stands in the audit, with before and after.
    const { items } = await gateway.json<{ items: object[] }>("/api/audit");
    expect(items[0]).toMatchObject({
      by: "program:test",
      what: "line-changed",
      subject: "limits.resin-breakthrough:after-resin.limit",
      before: { value: null },
      after: { value: 2 },
    });
    const again = await post("/api/line/limits", body);
    expect([again.status, ((await again.json()) as Problem).code]).toEqual([409, "line-file-changed"]);
  });

  it("a faulty text is refused whole, with its faults, and changes nothing", async () => {
    const before = await file();
    const yaml = before.yaml.replace("kind: carbon", "kind: coal");
    const check = (await (await post("/api/line/check", { yaml })).json()) as {
      ok: boolean;
      faults: object[];
    };
    expect(check).toMatchObject({
      ok: false,
      faults: [expect.objectContaining({ code: "value-not-allowed" })],
    });
    const answer = await post("/api/line/file", { yaml, version: before.version });
    expect([answer.status, ((await answer.json()) as Problem).code]).toEqual([422, "line-file-faulty"]);
    expect(await file()).toEqual(before);
  });

  it("a text of another site is refused", async () => {
    const { yaml, version } = await file();
    const answer = await post("/api/line/file", {
      yaml: yaml.replace("saltmarsh-house", "elsewhere"),
      version,
    });
    expect(((await answer.json()) as Problem).code).toBe("line-file-of-another-site");
  });

  it("a whole text is saved and in force, and stays so after a restart; nodes are known though none has spoken", async () => {
    const press = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
      username: "press",
      password: site.secrets.press as string,
    });
    const topic = "drumlin/1/saltmarsh-house/press/readings";
    await press.publishAsync(topic, '[{"n":"ec-1","u":"S/m","v":0.04}]', { qos: 1 });
    await press.endAsync();
    const nodes = async () => (await gateway.json<{ items: LineView["nodes"] }>("/api/nodes")).items;
    await eventually(nodes, (items) => items.some(({ id, packs }) => id === "press" && packs === 1));
    const { yaml, version } = await file();
    const answer = await post("/api/line/file", { yaml: yaml.replace("limit: 2", "limit: 3"), version });
    expect(answer.status).toBe(200);
    expect(await limit()).toBe(3);
    expect(await gateway.stop()).toBe(0);
    gateway = await startProcess(site);
    expect(await limit()).toBe(3);
    expect(await nodes()).toContainEqual(expect.objectContaining({ id: "press", packs: 1 }));
  });

  it("two saves at once: one is taken, the other told that the file was changed", async () => {
    const { yaml, version } = await file();
    const answers = await Promise.all(
      ["one", "two"].map((word) => post("/api/line/file", { yaml: `# ${word}\n${yaml}`, version })),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
  });

  it("a file that is gone is said by name, and the line stays in force", async () => {
    const { version } = await file();
    renameSync(site.line, `${site.line}.away`);
    const read = await gateway.api("/api/line/file");
    expect([read.status, ((await read.json()) as Problem).code]).toEqual([503, "line-file-not-usable"]);
    const body = { condition: "resin-breakthrough", subject: "after-resin", limit: 9, version };
    const answer = await post("/api/line/limits", body);
    expect(((await answer.json()) as Problem).code).toBe("line-file-not-usable");
    expect(await limit()).toBe(3);
    renameSync(`${site.line}.away`, site.line);
  });

  it("SIGHUP takes what an editor wrote; a faulty file leaves the old in force", async () => {
    const good = readFileSync(site.line, "utf8");
    writeFileSync(site.line, good.replace("limit: 3", "limit: 4"));
    process.kill(gateway.pid, "SIGHUP");
    expect(await eventually(limit, (value) => value === 4)).toBe(4);
    // Value by value, as every other change of the line.
    const { items } = await eventually(
      () =>
        gateway.json<{ items: { by: string; subject: string; before: object; after: object }[] }>(
          "/api/audit",
        ),
      (audit) => audit.items.some(({ by }) => by === "command line"),
    );
    expect(items.find(({ by, subject }) => by === "command line" && subject !== "")).toMatchObject({
      what: "line-changed",
      subject: "limits.resin-breakthrough:after-resin.limit",
      before: { value: 3 },
      after: { value: 4 },
    });
    writeFileSync(site.line, "drumlin: 1\nsite: 7\n");
    process.kill(gateway.pid, "SIGHUP");
    await eventually(
      async () => gateway.printed(),
      (text) => text.includes("the old one stays in force"),
    );
    expect(gateway.printed()).toContain("the old one stays in force");
    expect(await limit()).toBe(4);
    writeFileSync(site.line, good.replace("limit: 3", "limit: 4"));
  });
});
