import { mkdtempSync } from "node:fs";
import { connect, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import type { LiveEvent } from "@drumlin/gateway/contract";
import { createHttp, type HttpComponents } from "@drumlin/gateway/http";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { noComponents } from "./no-components.ts";

type Listener = Parameters<HttpComponents["subscribe"]>[0];
type Told = Parameters<Listener>[0];

const points = Array.from({ length: 50 }, (_, at) => `point-${at}`);
/** As long as a view with reasons, history and floats may be. */
const padding = "x".repeat(4000);

/** 80 MB: no system's own buffers hold as much. */
const maxRounds = 400;
/** 20 MB: more than the system's own buffers hold. */
const heldRounds = 100;

const accounts = openAccounts({
  folder: mkdtempSync(join(tmpdir(), "drumlin-slow-stream-")),
  now: Date.now,
  cost: { log2N: 4, r: 8, p: 1 },
});
const token = accounts.tokens.add("wall", "viewer", "test");
const listeners = new Set<Listener>();
const sockets: Socket[] = [];
let elapsedMs = 0;
let http: Awaited<ReturnType<typeof createHttp>>;

beforeAll(async () => {
  await accounts.people.add({ name: "Mara", role: "operator", password: "brackish mornings", by: "test" });
  http = await createHttp(
    {
      ...noComponents(accounts),
      elapsedMs: () => elapsedMs,
      subscribe: (listener) => {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
    },
    { host: "127.0.0.1", port: 0, pages: null, log: () => {}, onRefused: () => {} },
  );
});
afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.destroy();
  await expect.poll(() => listeners.size).toBe(0);
  elapsedMs = 0;
});
afterAll(async () => {
  await http.stop();
  accounts.close();
});

interface Heard {
  readonly event: string;
  readonly data: { readonly id: string; readonly round: number };
}

/** A client over a real connection, which reads only while it is let. */
async function listen(every: string) {
  const before = listeners.size;
  const socket = connect(http.port, "127.0.0.1");
  sockets.push(socket);
  const heard: Heard[] = [];
  const state = { heard, socket, closed: false };
  let text = "";
  socket.on("data", (chunk: Buffer) => {
    text += chunk.toString();
    const parts = text.split("\n\n");
    text = parts.pop() ?? "";
    for (const part of parts) {
      const match = /event: (\w+)\ndata: (.*)/.exec(part);
      if (match && match[1] !== "heartbeat")
        heard.push({ event: match[1] ?? "", data: JSON.parse(match[2] ?? "") });
    }
  });
  socket.on("error", () => {});
  socket.on("close", () => {
    state.closed = true;
  });
  socket.write(
    `GET /api/live?every=${every} HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${token}\r\n\r\n`,
  );
  await expect.poll(() => listeners.size).toBe(before + 1);
  return state;
}

/** How often anything was made into text. */
let made = 0;

/** Tells each listener of one thing. */
function tell(told: Pick<Told, "key" | "about"> & { readonly data: object; readonly event: string }): void {
  const view = () => {
    made += 1;
    return { event: told.event, data: { ...told.data, padding } } as unknown as LiveEvent;
  };
  for (const listener of [...listeners]) listener({ ...told, view }, 1);
}
const tellPoint = (id: string, round: number) =>
  tell({ key: `point ${id}`, about: { kind: "point", id }, event: "point", data: { id, round } });
const tellAll = (round: number) => {
  for (const id of points) tellPoint(id, round);
};

const turn = () => new Promise((resolve) => setImmediate(resolve));

/** Does something, lets the streams have their turn, and gives how often it was made into text. */
async function madeBy(telling: () => void): Promise<number> {
  const before = made;
  telling();
  await turn();
  return made - before;
}

/** Tells all points, round by round, until nothing more is made for a client that does not read; gives the last round. */
async function untilFull(): Promise<number> {
  let idle = 0;
  let round = 0;
  // What lies in the system's own buffers (some MB) is not the gateway's.
  while (idle < 20) {
    round += 1;
    if (round > maxRounds) throw new Error("more and more is made for a client that does not read");
    const told = round;
    idle = (await madeBy(() => tellAll(told))) === 0 ? idle + 1 : 0;
    // A busy system may take a while until its buffers have taken what they can.
    if (idle > 0) await new Promise((resolve) => setTimeout(resolve, 10));
  }
  return round;
}

describe("the stream of a client that reads slowly", () => {
  it("is thinned to the newest of each point, which it gets once it reads; alarms are never thinned", async () => {
    const slow = await listen("0");
    slow.socket.pause();
    const last = await untilFull();
    for (let number = 1; number <= 5; number += 1)
      expect(
        await madeBy(() =>
          tell({ key: null, about: null, event: "alarm", data: { id: `alarm-${number}`, round: 0 } }),
        ),
      ).toBe(1);
    // However long it goes on, nothing is made for it.
    for (let more = 1; more <= 200; more += 1) expect(await madeBy(() => tellAll(last + more))).toBe(0);
    slow.socket.resume();
    const newest = () => {
      const found = new Map(
        slow.heard.filter(({ event }) => event === "point").map(({ data }) => [data.id, data.round]),
      );
      return points.every((id) => found.get(id) === last + 200);
    };
    await expect.poll(newest).toBe(true);
    expect(slow.heard.filter(({ event }) => event === "alarm").map(({ data }) => data.id)).toEqual([
      "alarm-1",
      "alarm-2",
      "alarm-3",
      "alarm-4",
      "alarm-5",
    ]);
    // Of each point nothing between what the buffers held and the newest.
    const later = slow.heard.filter(({ data }) => data.round > last);
    expect(later).toHaveLength(points.length);
  });

  it("holds no other up, and is its own again after it has read", async () => {
    const slow = await listen("0");
    const quick = await listen("0");
    slow.socket.pause();
    let round = 0;
    for (; round < heldRounds; ) {
      round += 1;
      tellAll(round);
      await expect.poll(() => quick.heard.length, { interval: 1 }).toBe(round * points.length);
    }
    slow.socket.resume();
    await expect.poll(() => slow.heard.at(-1)?.data.round).toBe(round);
    expect(slow.heard.length).toBeLessThan(quick.heard.length);
    // Both hear it at once now; it is made into text once.
    expect(await madeBy(() => tellPoint("point-0", round + 1))).toBe(1);
    await expect.poll(() => slow.heard.at(-1)?.data).toMatchObject({ id: "point-0", round: round + 1 });
  });

  it("is cut after 30 s in which it read nothing, not before, and not where it read again", async () => {
    const [slow, later] = [await listen("0"), await listen("0")];
    slow.socket.pause();
    later.socket.pause();
    const last = await untilFull();
    elapsedMs = 20_000;
    later.socket.resume();
    await expect.poll(() => later.heard.at(-1)?.data.round).toBe(last);
    elapsedMs = 29_999;
    await madeBy(() => tellPoint("point-0", last + 1));
    expect(listeners.size).toBe(2);
    elapsedMs = 30_001;
    await madeBy(() => tellPoint("point-0", last + 2));
    expect(listeners.size).toBe(1);
    slow.socket.resume();
    await expect.poll(() => slow.closed).toBe(true);
    await expect.poll(() => later.heard.at(-1)?.data.round).toBe(last + 2);
    expect(later.closed).toBe(false);
    // Slow once more: its 30 s begin anew.
    later.socket.pause();
    await untilFull();
    expect(listeners.size).toBe(1);
    elapsedMs = 60_002;
    await madeBy(() => tellPoint("point-0", 0));
    expect(listeners.size).toBe(0);
  });

  it("one that asks for a second's news gets the first at once, then each point once a second, as it is then", async () => {
    const calm = await listen("1s");
    expect(await madeBy(() => tellPoint("point-0", 1))).toBe(1);
    for (let round = 2; round <= 40; round += 1) expect(await madeBy(() => tellAll(round))).toBe(0);
    await expect.poll(() => calm.heard.length).toBe(1);
    elapsedMs = 1000;
    expect(await madeBy(() => tellPoint("point-49", 41))).toBe(points.length);
    await expect.poll(() => calm.heard.length).toBe(1 + points.length);
    expect(calm.heard.slice(1).map(({ data }) => data.round)).toEqual(
      points.map((id) => (id === "point-49" ? 41 : 40)),
    );
  });

  it("gets all that one turn tells of a thing as one piece of news, however many streams hear it", async () => {
    const streams = [await listen("0"), await listen("0"), await listen("0")];
    const times = await madeBy(() => {
      for (let round = 1; round <= 100; round += 1) tellAll(round);
    });
    expect(times).toBe(points.length);
    for (const { heard } of streams) {
      await expect.poll(() => heard.length).toBe(points.length);
      expect(new Set(heard.map(({ data }) => data.round))).toEqual(new Set([100]));
    }
    // Told anew it is made anew.
    expect(await madeBy(() => tellPoint("point-7", 101))).toBe(1);
    for (const { heard } of streams) await expect.poll(() => heard.at(-1)?.data.round).toBe(101);
  });
});
