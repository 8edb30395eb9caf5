import { createBroker } from "@drumlin/gateway/broker";
import type { NewEntry } from "@drumlin/gateway/journal";
import { connectAsync, type MqttClient } from "mqtt";
import { afterEach, describe, expect, it } from "vitest";
import { appending } from "./appending.ts";

const topic = "drumlin/1/saltmarsh-house/press/readings";
const ends: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

/** A journal that commits only when it is told to. */
function heldJournal() {
  const waiting: { entry: NewEntry; commit: () => void; fail: (error: Error) => void }[] = [];
  let seq = 0;
  return {
    waitingAppends: waiting,
    trouble: null as string | null,
    ...appending(
      (entry) =>
        new Promise<number>((resolve, reject) => {
          waiting.push({ entry, commit: () => resolve(++seq), fail: reject });
        }),
    ),
  };
}

async function bench(
  rate?: { packsPerSecond: number; bytesPerSecond: number; burstSeconds: number },
  now: () => number = Date.now,
) {
  const journal = heldJournal();
  const refused: string[] = [];
  const broker = await createBroker(
    {
      journal,
      credentials: { verify: async () => true, inForce: () => "one", isCostly: () => false },
      now,
      onRefused: (code) => refused.push(code),
    },
    { site: "saltmarsh-house", host: "127.0.0.1", port: 0, ...(rate ? { rate } : {}) },
  );
  ends.push(() => broker.stop());
  const client: MqttClient = await connectAsync(
    `mqtt://127.0.0.1:${broker.port}`,
    { username: "press", password: "x", reconnectPeriod: 0 },
    false,
  );
  client.on("error", () => {});
  ends.push(() => client.endAsync(true));
  return { journal, refused, broker, client };
}

const settle = () => new Promise((resolve) => setImmediate(() => setTimeout(resolve, 30)));
async function until(right: () => boolean): Promise<void> {
  for (let attempt = 0; attempt < 4000 && !right(); attempt += 1) await settle();
  expect(right()).toBe(true);
}

describe("the broker", () => {
  it("acknowledges nothing before the journal has it, and then in the order in which it came, refused ones too", async () => {
    const { journal, client } = await bench();
    const answered: number[] = [];
    for (const number of [1, 2, 3])
      client.publish(
        number === 2 ? "drumlin/1/saltmarsh-house/drums/readings" : topic,
        `[${number}]`,
        { qos: 1 },
        () => answered.push(number),
      );
    await until(() => journal.waitingAppends.length === 2);
    await settle();
    expect(answered).toEqual([]);
    journal.waitingAppends[0]?.commit();
    await until(() => answered.length === 2);
    expect(answered).toEqual([1, 2]);
    journal.waitingAppends[1]?.commit();
    await until(() => answered.length === 3);
  });

  it("ends the connection without an answer when the journal fails, so that the node sends again", async () => {
    const { journal, client, refused } = await bench();
    const answers: (string | undefined)[] = [];
    client.publish(topic, "[1]", { qos: 1 }, (error) => answers.push(error?.message));
    await until(() => journal.waitingAppends.length === 1);
    journal.waitingAppends[0]?.fail(new Error("disk"));
    await until(() => !client.connected);
    expect(answers.filter((message) => message === undefined)).toEqual([]);
    expect(refused).toEqual(["journal-not-writing"]);
  });

  it("answers CONNECT with 'server unavailable' while nothing can be stored, and takes it again afterwards", async () => {
    const { journal, broker } = await bench();
    journal.trouble = "database or disk is full";
    const options = { username: "press", password: "x", reconnectPeriod: 0 };
    // MQTT 3.1.1, table 3.1: return code 3.
    await expect(connectAsync(`mqtt://127.0.0.1:${broker.port}`, options, false)).rejects.toMatchObject({
      code: 3,
    });
    journal.trouble = null;
    const client = await connectAsync(`mqtt://127.0.0.1:${broker.port}`, options, false);
    await client.endAsync(true);
  });

  it("lets a bounded number wait for a disk that hangs: the rest stays with the sender", async () => {
    const { journal, client } = await bench({ packsPerSecond: 1e6, bytesPerSecond: 1e9, burstSeconds: 10 });
    for (let number = 0; number < 5000; number += 1)
      client.publish(topic, `[${number}] ${" ".repeat(1000)}`, { qos: 1 });
    await until(() => journal.waitingAppends.length >= 20);
    for (let round = 0; round < 10; round += 1) await settle();
    // At most 400, and what one read of 64 KiB brings on top.
    expect(journal.waitingAppends.length).toBeLessThan(600);
    let done = 0;
    while (done < 5000) {
      const batch = journal.waitingAppends.splice(0);
      for (const { commit } of batch) commit();
      done += batch.length;
      await settle();
    }
    expect(done).toBe(5000);
  });

  it("slows a node that sends over its rate, and loses nothing of it", async () => {
    const { journal, client } = await bench({ packsPerSecond: 100, bytesPerSecond: 1e6, burstSeconds: 0.5 });
    const begun = performance.now();
    let answered = 0;
    for (let number = 0; number < 150; number += 1)
      client.publish(topic, `[${number}] ${" ".repeat(4000)}`, { qos: 1 }, () => (answered += 1));
    while (answered < 150) {
      for (const { commit } of journal.waitingAppends.splice(0)) commit();
      await settle();
    }
    // 150 packs, 50 of them at once: the other 100 take a second; sockets hold some 16 packs at a time.
    expect(performance.now() - begun).toBeGreaterThan(500);
  });
});
