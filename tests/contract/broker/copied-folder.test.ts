// Runs under one name that ask each other, over a broker in this process: each hears what any of them says, in order.
import type { MqttClient } from "mqtt";
import { expect, it } from "vitest";
import { askedOf, findCopy, type Run, stays } from "../../../gateway/src/broker/copied-folder.ts";

const topic = "drumlin/1/saltmarsh-house/gateway/presence";
type Hear = (topic: string, bytes: Buffer, packet: { readonly retain: boolean }) => void;

function newBroker() {
  const subscribed: Hear[] = [];
  return function connect(): MqttClient {
    const hearing: Hear[] = [];
    return {
      on: (_event: string, hear: Hear) => hearing.push(hear),
      once() {},
      subscribeAsync: async () => void subscribed.push(...hearing),
      publish(to: string, text: string) {
        for (const hear of subscribed) queueMicrotask(() => hear(to, Buffer.from(text), { retain: false }));
      },
    } as unknown as MqttClient;
  };
}
const run = (name: string, rank: number): Run => ({ instance: "i", run: name, rank });
const longMs = 3_600_000;
const asks = (client: MqttClient, me: Run, isPutOut: boolean, waitMs = longMs) =>
  findCopy(client, { topic, me }, { waitMs, isPutOut, steadyMs: () => performance.now() }).then(
    ({ other }) => other,
  );
/** What it has found so far; "asks" while it still waits. */
const sofar = (found: Promise<Run | null>) => Promise.race([found, Promise.resolve("asks" as const)]);

it.each([
  ["behind", 2, 1],
  ["before", 1, 2],
])(
  "a run that was put out asks as a copy begins whose clock is %s its own: that one alone stops",
  async (_where, mine, its) => {
    const connect = newBroker();
    const [works, begins] = [run("a", mine), run("b", its)];
    const putOut = asks(connect(), works, true);
    await Promise.resolve();
    expect((await asks(connect(), begins, false))?.run).toBe("a");
    expect(await sofar(putOut)).toBe("asks");
  },
);
it.each([
  [1, 2],
  [2, 1],
  [1, 1],
])("two that were put out ask at once, of ranks %i and %i: one of them stays", async (mine, its) => {
  const connect = newBroker();
  const [one, other] = [run("a", mine), run("b", its)];
  const [found, foundByOther] = await Promise.all([asks(connect(), one, true), asks(connect(), other, true)]);
  expect([found?.run, foundByOther?.run]).toEqual(["b", "a"]);
  expect([stays(one, found as Run), stays(other, foundByOther as Run)].sort()).toEqual([false, true]);
});
it("one that works answers who begins, and nobody else", () => {
  const me = run("a", 1);
  expect(askedOf(JSON.stringify({ ...run("b", 2), asks: "x" }), me)?.answer).toContain('"answers":"x"');
  for (const said of [{ ...me, asks: "x" }, { ...run("b", 2), instance: "j", asks: "x" }, run("b", 2), null])
    expect(askedOf(JSON.stringify(said), me)).toBeNull();
});
