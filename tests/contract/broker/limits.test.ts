import { createBroker } from "@drumlin/gateway/broker";
import { afterEach, describe, expect, it, vi } from "vitest";
import { appending } from "./appending.ts";
import { publish, rawClient, signedIn, signIn, subscribe, until } from "./raw-client.ts";

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const topicOf = (node: string, kind = "readings") => `drumlin/1/saltmarsh-house/${node}/${kind}`;
const told = (rest: string) => `drumlin/1/saltmarsh-house/gateway/${rest}`;

const nodes = ["press", "drums"];

/** A broker whose journal commits at once. */
async function started(more: { readonly maxConnections?: number; readonly maxUnknown?: number } = {}) {
  const taken: { readonly topic: string; readonly text: string }[] = [];
  const refused: string[] = [];
  const broker = await createBroker(
    {
      journal: {
        trouble: null,
        ...appending(async (entry) => {
          if (entry.kind === "message")
            taken.push({ topic: entry.topic, text: Buffer.from(entry.payload).toString() });
          return taken.length;
        }),
      },
      credentials: {
        inForce: (node) => (nodes.includes(node) ? "one" : null),
        isCostly: () => false,
        verify: async (node, secret) => nodes.includes(node) && Buffer.from(secret).toString() === "right",
      },
      now: () => performance.now(),
      onRefused: (code) => refused.push(code),
    },
    { site: "saltmarsh-house", host: "127.0.0.1", port: 0, ...more },
  );
  ends.push(() => broker.stop());
  const open = async (node: string, connect = {}) => {
    const client = await signedIn(broker.port, node, connect);
    ends.push(() => client.socket.destroy());
    return client;
  };
  return { broker, port: broker.port, taken, refused, open };
}

describe("what a node may hear", () => {
  it("a packet whose first filter is its own brings none of the others, not even after it was away", async () => {
    const { broker, refused, open } = await started();
    const press = await open("press", { clean: false });
    press.send(subscribe(1, topicOf("press", "request"), topicOf("drums"), "#", told("#")));
    await until(() => press.came.length > 1);
    expect(press.came[1]).toMatchObject({ cmd: "suback", granted: [1, 128, 128, 1] });
    expect(refused).toEqual(["filter-not-yours", "filter-not-yours"]);
    press.socket.destroy();
    await until(() => !broker.connectedNodes().includes("press"));
    const drums = await open("drums");
    for (const id of [1, 2, 3]) drums.send(publish(id, topicOf("drums")));
    await until(() => drums.came.length === 4);
    const again = await open("press", { clean: false });
    // MQTT 3.1.1 §3.2.2.2: no stored session, so the client subscribes anew.
    expect(again.came[0]).toMatchObject({ cmd: "connack", sessionPresent: false });
    drums.send(publish(4, topicOf("drums")));
    again.send({ cmd: "pingreq" });
    await until(() => again.came.some(({ cmd }) => cmd === "pingresp"));
    expect(again.came.map(({ cmd }) => cmd)).toEqual(["connack", "pingresp"]);
  });

  it("sixteen filters a connection, each given back when it is ended", async () => {
    const { refused, open } = await started();
    const press = await open("press");
    for (let id = 1; id <= 18; id += 1) press.send(subscribe(id, told(`points/p-${id}`)));
    await until(() => press.came.length === 19);
    const granted = press.came
      .slice(1)
      .sort((a, b) => Number(a.messageId) - Number(b.messageId))
      .map((packet) => (packet.cmd === "suback" ? packet.granted[0] : null));
    expect(granted).toEqual([...Array(16).fill(1), 128, 128]);
    expect(refused).toEqual(["filters-too-many", "filters-too-many"]);
    press.send({ cmd: "unsubscribe", messageId: 30, unsubscriptions: [told("points/p-1")] });
    await until(() => press.came.length === 20);
    press.send(subscribe(31, told("points/p-40")));
    await until(() => press.came.length === 21);
    expect(press.came[20]).toMatchObject({ cmd: "suback", granted: [1] });
  });

  it("1,500 filters in one packet freeze nothing: the packet is too long for filters", async () => {
    const { refused, open } = await started();
    const press = await open("press", { clean: false });
    const drums = await open("drums");
    press.send(subscribe(1, ...Array.from({ length: 1500 }, (_, index) => told(index.toString(36)))));
    const before = process.cpuUsage();
    drums.send({ cmd: "pingreq" });
    await until(() => drums.came.length === 2);
    // What another program does meanwhile is no fault of the broker, which runs in this process.
    const { user, system } = process.cpuUsage(before);
    expect((user + system) / 1000).toBeLessThan(500);
    await until(() => press.closed());
    expect(refused).toEqual(["frame-too-long"]);
  });
});

const payload = `[]${" ".repeat(4000)}`;
/** 500 packs at once, 50 a second, and one read of 64 KiB that was under way on each connection. */
const allowed = (sinceMs: number, connections: number) =>
  500 + (50 * (performance.now() - sinceMs)) / 1000 + 17 * connections;

describe("limits by node, not by connection", () => {
  it("forty connections of one node get one allowance, and four stay", async () => {
    const { taken, refused, open } = await started();
    const all = await Promise.all(
      Array.from({ length: 40 }, (_, index) => open("press", { clientId: `press-${index}` })),
    );
    await until(() => all.filter((client) => !client.closed()).length === 4);
    expect(refused.filter((code) => code === "connection-replaced")).toHaveLength(36);
    const beganMs = performance.now();
    for (const client of all)
      for (let id = 1; id <= 500; id += 1) client.send(publish(id, topicOf("press"), 1, payload));
    await until(() => taken.length >= 500 && refused.includes("rate-too-high"));
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(taken.length).toBeLessThan(allowed(beganMs, 4));
  });

  it("coming back brings no new allowance", async () => {
    const { taken, open } = await started();
    const beganMs = performance.now();
    for (let round = 0; round < 3; round += 1) {
      const press = await open("press");
      for (let id = 1; id <= 500; id += 1) press.send(publish(id, topicOf("press"), 1, payload));
      let before = -1;
      await until(() => {
        const quiet = before === taken.length && taken.length >= 500;
        before = taken.length;
        return quiet;
      });
      press.socket.destroy();
      await until(() => press.closed());
    }
    expect(taken.length).toBeLessThan(allowed(beganMs, 3));
  });

  it("nobody takes another's client id, nor keeps it from it", async () => {
    const { open } = await started();
    const drums = await open("drums", { clientId: "press" });
    const press = await open("press", { clientId: "press" });
    expect(press.came[0]).toMatchObject({ cmd: "connack", returnCode: 0 });
    drums.send({ cmd: "pingreq" });
    await until(() => drums.came.length === 2);
  });

  it("the late end of an old connection says nothing of a node that is there on another", async () => {
    const { taken, open } = await started();
    const will = {
      topic: topicOf("press", "presence"),
      payload: Buffer.from('{"state":"offline","boot":5}'),
      qos: 1 as const,
      retain: true,
    };
    const old = await open("press", { clientId: "a", will });
    const fresh = await open("press", { clientId: "b", will });
    old.socket.destroy();
    fresh.send(publish(1, topicOf("press")));
    await until(() => taken.length > 0 && old.closed());
    fresh.socket.destroy();
    await until(() => taken.length === 2);
    expect(taken.map(({ topic }) => topic)).toEqual([topicOf("press"), will.topic]);
  });
});

describe("a clock that was set", () => {
  it("brings out the will of no node that is there", async () => {
    vi.useFakeTimers({ toFake: ["setInterval", "clearInterval", "Date"] });
    ends.push(() => vi.useRealTimers());
    const { taken, open } = await started();
    const topic = topicOf("press", "presence");
    const will = {
      topic,
      payload: Buffer.from('{"state":"offline","boot":5}'),
      qos: 1 as const,
      retain: true,
    };
    const press = await open("press", { will });
    vi.setSystemTime(Date.now() + 3_600_000);
    // The library looks at old wills every 4 minutes.
    for (let minute = 0; minute < 5; minute += 1) {
      vi.setSystemTime(Date.now() + 3_600_000);
      await vi.advanceTimersByTimeAsync(60_000);
    }
    press.send(publish(1, topicOf("press")));
    await until(() => taken.length > 0);
    expect(taken.map(({ topic: one }) => one)).toEqual([topicOf("press")]);
    press.socket.destroy();
    await until(() => taken.length === 2);
    expect(taken[1]?.topic).toBe(topic);
  });
});

describe("connections of nobody", () => {
  it("never take the last place: a node signs in among them, and stays", async () => {
    const { port, refused, taken, open } = await started({ maxConnections: 60, maxUnknown: 20 });
    const silent = () => Array.from({ length: 100 }, () => rawClient(port));
    const first = silent();
    ends.push(() => first.forEach(({ socket }) => void socket.destroy()));
    await until(() => first.filter((client) => client.closed()).length === 80);
    const press = await open("press");
    expect(press.came[0]).toMatchObject({ cmd: "connack", returnCode: 0 });
    const second = silent();
    ends.push(() => second.forEach(({ socket }) => void socket.destroy()));
    await until(() => [...first, ...second].filter((client) => !client.closed()).length === 20);
    press.send(publish(1, topicOf("press")));
    await until(() => press.came.length === 2);
    expect(taken).toHaveLength(1);
    expect(refused.filter((code) => code === "connections-too-many").length).toBeGreaterThan(150);
  });

  it("300 wrong sign-ins from its address keep no node with the right secret out", async () => {
    const { port, open } = await started();
    for (let round = 0; round < 10; round += 1)
      await Promise.all(
        Array.from({ length: 30 }, async (_, index) => {
          const client = await signedIn(port, `n-${round}-${index}`, {}, "wrong");
          client.socket.destroy();
        }),
      );
    const press = await open("press");
    expect(press.came[0]).toMatchObject({ cmd: "connack", returnCode: 0 });
  });
});

describe("every refusal has a name and a count, and a CONNECT that can be read has its CONNACK", () => {
  const connect = (username: string, secret: string, more = {}) => signIn(username, secret, more);
  it.each([
    ["MQTT 5", [connect("press", "right", { protocolVersion: 5 })], "protocol-not-taken", 1],
    ["a wrong secret", [connect("press", "wrong")], "sign-in-refused", 4],
    ["a name that is nobody's", [connect("pump", "right")], "sign-in-refused", 4],
    ["a CONNECT over 2 KiB", [connect("press", "x".repeat(3000))], "frame-too-long", 5],
    ["a packet before CONNECT", [publish(1, topicOf("press"))], "frame-broken", null],
    ["a second CONNECT", [connect("press", "right"), connect("press", "right")], "frame-broken", 0],
    ["a wildcard in a topic", [connect("press", "right"), publish(1, "a/#")], "topic-not-usable", 0],
    [
      "over 100 levels",
      [connect("press", "right"), publish(1, Array(120).fill("a").join("/"))],
      "topic-not-usable",
      0,
    ],
    [
      "over 42 packets before the answer",
      [
        connect("press", "right"),
        ...Array.from({ length: 60 }, (_, id) => publish(id + 1, topicOf("press"))),
      ],
      "packets-before-sign-in",
      null,
    ],
  ] as const)("%s", async (_what, packets, code, connack) => {
    const { port, refused } = await started();
    const client = rawClient(port);
    client.send(...packets);
    await until(() => client.closed() && refused.length > 0);
    expect(refused).toContain(code);
    const [first] = client.came;
    expect(first?.cmd === "connack" ? first.returnCode : null).toBe(connack);
  });

  it("bytes that are no MQTT", async () => {
    const { port, refused } = await started();
    const client = rawClient(port);
    client.bytes(Buffer.from("GET / HTTP/1.1\r\n\r\n"));
    await until(() => client.closed());
    expect(refused).toEqual(["frame-broken"]);
  });

  it("a topic of nine levels is acknowledged under a name, and the node stays", async () => {
    const { refused, open } = await started();
    const press = await open("press");
    press.send(publish(1, "a/b/c/d/e/f/g/h/i"), publish(2, topicOf("press")));
    await until(() => press.came.length === 3);
    expect(refused).toEqual(["topic-not-yours"]);
    expect(press.closed()).toBe(false);
  });
});
