import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { acts } from "@drumlin/gateway/acts";
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { actCommand } from "../../../gateway/src/app/commands/act.ts";
import { actName, exampleOf } from "../../../gateway/src/app/commands/act-usage.ts";
import { UsageError } from "../../../gateway/src/app/options.ts";

interface Asked {
  readonly method: string | undefined;
  readonly url: string | undefined;
  readonly token: string | undefined;
  readonly body: unknown;
}

let server: Server;
let url = "";
let asked: Asked[] = [];
let answer: { status: number; body: object } = { status: 200, body: { items: [] } };

beforeAll(async () => {
  server = createServer((request, response) => {
    let text = "";
    request.on("data", (chunk: Buffer) => (text += chunk.toString()));
    request.on("end", () => {
      const { method, url: path, headers } = request;
      asked.push({ method, url: path, token: headers.authorization, body: text ? JSON.parse(text) : null });
      const isList = method === "GET";
      response.writeHead(isList ? 200 : answer.status, { "content-type": "application/json" });
      const standing = [{ key: "resin-breakthrough:after-resin", occurrence: "9/x/1" }];
      response.end(JSON.stringify(isList ? { items: standing } : answer.body));
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterAll(() => server.close());
afterEach(() => {
  asked = [];
  answer = { status: 200, body: { items: [] } };
  vi.restoreAllMocks();
});

/** As a shell takes a line apart. */
const wordsOf = (line: string) =>
  [...line.matchAll(/(?:[^\s'"]|'[^']*'|"[^"]*")+/g)].map(([word]) => word.replace(/(['"])(.*)\1/, "$2"));

async function run(...args: string[]) {
  const lines: string[] = [];
  const keep = (text: string) => {
    lines.push(text);
  };
  vi.spyOn(console, "log").mockImplementation(keep);
  vi.spyOn(console, "error").mockImplementation(keep);
  const code = await actCommand.run([...args, "--url", url, "--token", "secret"]);
  return { code, said: lines.join("\n") };
}

describe("drumlin act", () => {
  it.each(acts.map((act) => [actName(act), act] as const))(
    "%s: the example of its help is what its call takes",
    async (name, act) => {
      expect(actCommand.helpOf?.([name, "--help"])).toContain(exampleOf(act));
      const [, , ...args] = wordsOf(exampleOf(act));
      expect(await run(...args)).toEqual({ code: 0, said: `${name}: taken` });
      const call = asked.at(-1) as Asked;
      expect(call.method).toBe("POST");
      expect(call.token).toBe("Bearer secret");
      expect(decodeURIComponent(call.url as string)).toMatch(
        new RegExp(`^${act.path.replace(/\{\w+\}/g, "[^/]+")}$`),
      );
      expect(act.schema.safeParse(call.body).error).toBeUndefined();
    },
  );

  it("takes the occurrence that stands under the key where none is told", async () => {
    await run("acknowledge", "key=resin-breakthrough:after-resin");
    expect(asked.map(({ method, body }) => [method, body])).toEqual([
      ["GET", null],
      ["POST", { occurrence: "9/x/1" }],
    ]);
    await run("acknowledge", "key=resin-breakthrough:after-resin", "occurrence=7/x/1");
    expect(asked.at(-1)?.body).toEqual({ occurrence: "7/x/1" });
  });

  it("says by name why it was refused, as text and as JSON, and ends with 1", async () => {
    answer = { status: 409, body: { code: "no-such-occurrence", detail: "It is over." } };
    expect(await run("acknowledge", "key=a:b")).toEqual({ code: 1, said: "no-such-occurrence: It is over." });
    const { code, said } = await run("acknowledge", "key=a:b", "--json");
    expect([code, JSON.parse(said)]).toEqual([1, answer.body]);
  });

  it.each([
    [["release", "reason=dumped"], "id is missing"],
    [["release", "id=mix", "reason=dumped", "litres=3"], "takes no litres"],
    [["shelve", "key=a:b", "minutes=soon"], "minutes=soon is no number"],
    [["release", "id=mix", "id=fresh", "reason=dumped"], "id is given twice"],
    [["calibration", "channel=a", "points=[84"], "is no JSON"],
    [["fly"], 'there is no act "fly"'],
  ])("%j is said to be wrong before anything is asked", async (args, why) => {
    await expect(run(...args)).rejects.toThrow(UsageError);
    await expect(run(...args)).rejects.toThrow(why);
    expect(asked).toEqual([]);
  });

  it("says that no gateway is there", async () => {
    await expect(
      actCommand.run(["note", "text=x", "--url", "http://127.0.0.1:9", "--token", "x"]),
    ).rejects.toThrow("no gateway answers at http://127.0.0.1:9");
  });
});
