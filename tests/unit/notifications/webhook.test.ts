import { createHmac } from "node:crypto";
import { mkdtempSync } from "node:fs";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { WebhookSettings } from "@drumlin/gateway/line";
import { openSecrets, sendWebhook, webhookKey } from "@drumlin/gateway/notifications";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { aCall, aMessage, nowMs } from "./a-message.ts";

const data = mkdtempSync(join(tmpdir(), "drumlin-hook-"));
const secrets = openSecrets(data, { DRUMLIN_SECRET_RELAY_TOKEN: "tk_123" });

interface Got {
  readonly request: IncomingMessage;
  readonly body: string;
}
const got: Got[] = [];
type Behaviour = (request: IncomingMessage, response: ServerResponse) => void;
const takes: Behaviour = (_request, response) => void response.writeHead(204).end();
let behave = takes;
const receiver = createServer((request, response) => {
  let body = "";
  request.on("data", (part: Buffer) => {
    body += part.toString("utf8");
  });
  request.on("end", () => {
    got.push({ request, body });
    behave(request, response);
  });
});
let port = 0;
beforeAll(async () => {
  await new Promise<void>((resolve) => receiver.listen(0, "127.0.0.1", resolve));
  port = (receiver.address() as { port: number }).port;
});
afterEach(() => {
  behave = takes;
});
afterAll(() => {
  receiver.closeAllConnections();
  receiver.close();
});

const settings = (more: Partial<WebhookSettings> = {}): WebhookSettings => ({
  url: `http://127.0.0.1:${port}/in`,
  form: "json",
  body: null,
  headers: new Map(),
  priority: { wake: "urgent", tell: "high", today: "default" },
  allowPrivate: true,
  ...more,
});
const message = { id: "m-1", destination: "relay", words: aMessage(), atMs: nowMs };
const send = (more: Partial<WebhookSettings> = {}, withinMs = 30_000) =>
  sendWebhook(settings(more), message, { secrets, withinMs });

describe("secrets in a webhook", () => {
  it("stand behind the host of its address, each as one part of it", async () => {
    const inPath = openSecrets(data, { DRUMLIN_SECRET_TOPIC: "a/../b?c#d" });
    const url = `http://127.0.0.1:${port}/in/{secret:topic}/x`;
    const sent = await sendWebhook(settings({ url }), message, { secrets: inPath });
    expect(sent).toEqual({ delivered: true });
    expect(got.at(-1)?.request.url).toBe("/in/a%2F..%2Fb%3Fc%23d/x");
  });

  it.each(["smtp-password", "vapid-key", "webhook-relay"])("are never the gateway's own: %s", async (own) => {
    const all = openSecrets(data, {
      DRUMLIN_SECRET_SMTP_PASSWORD: "sm7p",
      DRUMLIN_SECRET_VAPID_KEY: "k3y",
      DRUMLIN_SECRET_WEBHOOK_RELAY: "s1gn",
    });
    const count = got.length;
    for (const more of [
      { headers: new Map([["x-leak", `{secret:${own}}`]]) },
      { url: `http://127.0.0.1:${port}/{secret:${own}}` },
    ])
      expect(await sendWebhook(settings(more), message, { secrets: all })).toMatchObject({
        delivered: false,
        why: expect.stringContaining("own"),
      });
    expect(got.length).toBe(count);
  });

  it("are not fetched by what an alarm is called: a word in braces stays as it is", async () => {
    const words = { ...aMessage(), subject: "{secret:relay-token} {link} {priority}" };
    const headers = new Map([["title", "{title}"]]);
    await sendWebhook(
      settings({ form: "text", headers, body: "{title} {secret:relay-token}" }),
      { ...message, words },
      { secrets },
    );
    const { request, body } = got.at(-1) as Got;
    expect(request.headers.title).toBe("{secret:relay-token} {link} {priority}");
    expect(body).toBe("{secret:relay-token} {link} {priority} {secret:relay-token}");
  });
});

describe("a webhook", () => {
  it("is signed over its time and its very bytes", async () => {
    expect(await send()).toEqual({ delivered: true });
    const { request, body } = got.at(-1) as Got;
    const [, t = "", v1] =
      /^t=(\d+),v1=([0-9a-f]{64})$/.exec(String(request.headers["drumlin-signature"])) ?? [];
    const key = secrets.get(webhookKey("relay"));
    expect(v1).toBe(createHmac("sha256", key).update(`${t}.${body}`).digest("hex"));
    expect(Number(t)).toBe(nowMs / 1000);
    expect(request.headers["idempotency-key"]).toBe("m-1");
    expect(JSON.parse(body)).toMatchObject({
      id: "m-1",
      attention: "wake",
      title: "Act now · Mix drum: did not stop at its float",
      alarms: [
        { headline: "Mix drum: did not stop at its float", link: expect.stringContaining("#alarms?") },
      ],
    });
  });

  it("takes the plain form of relays, by templates; a secret stands in a header only", async () => {
    await send({
      form: "text",
      body: "{text} {secret:relay-token}",
      headers: new Map([
        ["Title", "{title}"],
        ["Priority", "{priority}"],
        ["Click", "{link}"],
        ["Authorization", "Bearer {secret:relay-token}"],
      ]),
    });
    const { request, body } = got.at(-1) as Got;
    expect(body).toBe(
      "Since 02:13 · contents 176 L, limit 170\nClose the supply by hand first. {secret:relay-token}",
    );
    expect(request.headers).toMatchObject({
      priority: "urgent",
      authorization: "Bearer tk_123",
      "content-type": "text/plain; charset=utf-8",
    });
    // RFC 2047: what no header can carry as it is.
    const title = /^=\?UTF-8\?B\?(.+)\?=$/.exec(String(request.headers.title))?.[1] ?? "";
    expect(Buffer.from(title, "base64").toString()).toBe("Act now · Mix drum: did not stop at its float");
  });

  it("can't be made to carry another header", async () => {
    const words = aMessage(aCall({}, { subject: "x\r\nX-Evil: 1" }));
    await sendWebhook(
      settings({ form: "text", headers: new Map([["Title", "{title}"]]) }),
      { ...message, words },
      { secrets },
    );
    expect(got.at(-1)?.request.headers["x-evil"]).toBeUndefined();
  });

  it.each<[string, Behaviour, object]>([
    ["answers 500", (_q, r) => void r.writeHead(500).end(), { why: "It answered 500." }],
    ["answers 401", (_q, r) => void r.writeHead(401).end(), { why: "It answered 401." }],
    ["answers 404", (_q, r) => void r.writeHead(404).end(), { why: "It answered 404." }],
    [
      "asks for patience",
      (_q, r) => void r.writeHead(503, { "retry-after": "120" }).end(),
      { afterMs: 120_000 },
    ],
    [
      "asks for a year of it",
      (_q, r) => void r.writeHead(429, { "retry-after": "999999" }).end(),
      { afterMs: 3_600_000 },
    ],
    [
      "sends it elsewhere",
      (_q, r) => void r.writeHead(307, { location: `http://127.0.0.1:${port}/other` }).end(),
      { why: expect.stringContaining("not followed") },
    ],
    ["hangs before it answers", () => {}, { why: "127.0.0.1 did not answer in time." }],
    [
      "hangs in the middle of its answer",
      (_q, r) => void r.writeHead(200, { "content-length": "10" }).write("x"),
      { why: "127.0.0.1 did not answer in time." },
    ],
    ["breaks off", (q) => void q.socket.destroy(), { why: "127.0.0.1 broke off (ECONNRESET)." }],
    [
      "talks nonsense",
      (q) => void q.socket.end("hello?\r\n\r\n"),
      { why: expect.stringContaining("127.0.0.1 broke off") },
    ],
  ])("that %s is tried again later", async (name, how, told) => {
    behave = how;
    const before = got.length;
    expect(await send({}, name.startsWith("hangs") ? 300 : 30_000)).toMatchObject({
      delivered: false,
      forGood: false,
      ...told,
    });
    expect(got.length).toBe(before + 1);
  });

  it("that answers without an end is cut off, and is delivered", async () => {
    behave = (_request, response) => {
      response.writeHead(200);
      const more = () => {
        while (!response.destroyed && response.write("x".repeat(16_384)));
        if (!response.destroyed) response.once("drain", more);
      };
      more();
    };
    expect(await send()).toEqual({ delivered: true });
  });

  it("is not sent where a secret of its headers is missing", async () => {
    expect(await send({ headers: new Map([["Authorization", "{secret:nobody}"]]) })).toMatchObject({
      delivered: false,
      why: expect.stringContaining("There is no secret nobody"),
    });
  });
});
