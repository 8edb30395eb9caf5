import mqtt from "mqtt";

const topic = "drumlin/1/saltmarsh-house/press/readings";
const packOf = (number: number, tMs: number) =>
  JSON.stringify([{ boot: 9, seq: number, n: "ec-1", u: "S/m", v: (number + 1) * 1e-7, t: tMs / 1000 }]);

/** Packs of a node whose readings are their numbers, in one count for all that is sent with this secret. */
export function numberedPacks(secret: string) {
  /** Numbers that have their PUBACK. */
  const acknowledged = new Set<number>();
  let next = 0;
  const signIn = { username: "press", password: secret };
  const numbered = () => {
    const number = next;
    next += 1;
    return number;
  };
  return {
    acknowledged,
    /** The number of the next one. */
    next: () => next,

    /** Sends packs of the stretch, epoch ms, a minute apart, and waits until each is acknowledged. */
    async sendPast(port: number, fromMs: number, toMs: number): Promise<void> {
      const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${port}`, signIn);
      const work: Promise<unknown>[] = [];
      for (let tMs = fromMs; tMs < toMs; tMs += 60_000) {
        const number = numbered();
        work.push(
          client.publishAsync(topic, packOf(number, tMs), { qos: 1 }).then(() => acknowledged.add(number)),
        );
        if (work.length >= 40) await Promise.all(work.splice(0));
      }
      await Promise.all(work);
      await client.endAsync();
    },

    /** A node that sends 20 packs a second, and comes back when it is dropped. */
    goodNode(port: number) {
      const client = mqtt.connect(`mqtt://127.0.0.1:${port}`, {
        ...signIn,
        reconnectPeriod: 300,
        // "Server unavailable" is no reason to give up.
        reconnectOnConnackError: true,
      });
      client.on("error", () => {});
      const timer = setInterval(() => {
        if (!client.connected) return;
        const number = numbered();
        client.publish(topic, packOf(number, Date.now()), { qos: 1 }, (error) => {
          if (!error) acknowledged.add(number);
        });
      }, 50);
      return {
        async stop() {
          clearInterval(timer);
          await client.endAsync(true);
        },
      };
    },
  };
}
