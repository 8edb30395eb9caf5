import { createBroker } from "@drumlin/gateway/broker";
import { afterEach, describe, expect, it } from "vitest";
import { appending } from "./appending.ts";
import { publish, rawClient, signIn, until } from "./raw-client.ts";

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const topicOf = (node: string) => `drumlin/1/saltmarsh-house/${node}/readings`;

async function started() {
  const held: (() => void)[] = [];
  const taken: string[] = [];
  const refused: string[] = [];
  let seq = 0;
  const journal = {
    trouble: null as string | null,
    ...appending(
      (entry) =>
        new Promise<number>((resolve) => {
          if (entry.kind === "message") taken.push(entry.topic);
          held.push(() => resolve(++seq));
        }),
    ),
  };
  const broker = await createBroker(
    {
      journal,
      credentials: {
        inForce: (node) => (["press", "drums"].includes(node) ? "one" : null),
        isCostly: () => false,
        verify: async (_node, secret) => Buffer.from(secret).toString() === "right",
      },
      now: () => 0,
      onRefused: (code) => refused.push(code),
    },
    { site: "saltmarsh-house", host: "127.0.0.1", port: 0 },
  );
  ends.push(() => broker.stop());
  return { port: broker.port, held, taken, refused };
}

async function signsIn(port: number, node: string, secret: string): Promise<boolean> {
  const client = rawClient(port);
  client.send(signIn(node, secret));
  await until(() => client.came.length > 0 || client.closed());
  const [first] = client.came;
  return first?.cmd === "connack" && first.returnCode === 0;
}

describe("what the broker refuses", () => {
  it("is answered in its place when one sync puts everything around it on disk", async () => {
    const { port, held, refused } = await started();
    const press = rawClient(port);
    press.send(signIn("press", "right"));
    await until(() => press.came.length === 1);
    press.send(
      publish(1, topicOf("press")),
      publish(2, topicOf("drums")),
      publish(3, topicOf("press")),
      publish(4, topicOf("press")),
    );
    await until(() => held.length === 3);
    for (const commit of held.splice(0)) commit();
    await until(() => press.came.length === 5);
    expect(press.came.slice(1).map(({ messageId }) => messageId)).toEqual([1, 2, 3, 4]);
    expect(refused).toEqual(["topic-not-yours"]);
  });

  it("never reaches the journal: another node's topic, the gateway's, $SYS, QoS 2", async () => {
    const { port, taken, refused } = await started();
    const press = rawClient(port);
    press.send(signIn("press", "right"));
    await until(() => press.came.length === 1);
    press.send(
      publish(1, topicOf("drums")),
      publish(2, "drumlin/1/saltmarsh-house/gateway/presence"),
      publish(3, "$SYS/uptime"),
      publish(4, topicOf("press"), 2),
    );
    await until(() => refused.length === 4);
    expect(refused).toEqual(["topic-not-yours", "topic-not-yours", "topic-not-yours", "qos-2-not-taken"]);
    expect(taken).toEqual([]);
  });

  it("is slowed like everything else: 20,000 packs for another's topic don't get past the rate", async () => {
    const { port, refused } = await started();
    const press = rawClient(port);
    press.send(signIn("press", "right"));
    await until(() => press.came.length === 1);
    for (let id = 1; id <= 20_000; id += 1) press.send(publish(id, topicOf("drums")));
    await until(() => refused.length > 400);
    let before = 0;
    await until(() => {
      const quiet = refused.length === before;
      before = refused.length;
      return quiet;
    });
    // 500 at once (50 a second, 10 s), and what a few reads of 64 KiB bring on top, 1,300 packs each.
    expect(refused.length).toBeLessThan(6000);
  });

  it("wrong secrets are told from a flood of them, and a right one is let in all the same", async () => {
    const { port, refused } = await started();
    for (let attempt = 0; attempt < 11; attempt += 1)
      expect(await signsIn(port, "drums", "wrong")).toBe(false);
    expect(refused.slice(-2)).toEqual(["sign-in-refused", "sign-in-too-often"]);
    expect(await signsIn(port, "drums", "right")).toBe(true);
    expect(await signsIn(port, "press", "right")).toBe(true);
  });
});
