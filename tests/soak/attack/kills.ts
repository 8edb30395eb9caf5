// kill -9 while a node sends what it kept: packs by `boot`, `seq` and `up`, without times of their own, in bursts.
import { openSqliteSeries } from "@drumlin/gateway/series";
import { connectAsync } from "mqtt";
import { lastAnswer, newSite, startProcess } from "../../acceptance/gateway-process.ts";

const periodS = 5;
/** Packs that the node makes while it can't send, for each kill. */
const backlog = 120;
/** Of its first ten seconds nothing is a value (`measurements`): such packs are stored as readings, and are no measurement. */
const startingS = 10;
const measured = backlog - Math.ceil(startingS / periodS);
const topic = "drumlin/1/saltmarsh-house/press/readings";

/** A point for each start of the node: made-up backlogs overlap in time, and rows of one series would meet. */
const pointOf = (boot: number) => `start-${boot}`;
function lineOf(boots: number): string {
  const points = Array.from(
    { length: boots },
    (_, boot) => `  ${pointOf(boot)}: { conductivity: press/ec-${boot} }`,
  );
  return `drumlin: 1\nsite: saltmarsh-house\npoints:\n${points.join("\n")}\n`;
}

/** A number of its own for each pack, as the value that it carries, S/m. */
const kappaOf = (number: number) => Number(((number + 1) * 1e-6).toFixed(6));

/** The packs of one start of the node, sent one after the other at most 20 under way, until one is not acknowledged. */
async function sendAll(
  mqtt: number,
  secret: string,
  packs: readonly { readonly number: number; readonly text: string }[],
  acknowledged: Set<number>,
): Promise<void> {
  const client = await connectAsync(
    `mqtt://127.0.0.1:${mqtt}`,
    { username: "press", password: secret, reconnectPeriod: 0 },
    false,
  );
  client.on("error", () => {});
  let next = 0;
  const sender = async () => {
    for (; next < packs.length; ) {
      const pack = packs[next] as (typeof packs)[number];
      next += 1;
      const isTaken = await Promise.race([
        client.publishAsync(topic, pack.text, { qos: 1 }).then(
          () => true,
          () => false,
        ),
        new Promise<false>((resolve) => client.once("close", () => resolve(false))),
      ]);
      if (!isTaken) return;
      acknowledged.add(pack.number);
    }
  };
  client.setMaxListeners(1000);
  await Promise.all(Array.from({ length: 20 }, sender));
  client.end(true);
}

/** Kills the gateway `kills` times in the middle of a backlog; says whether all that was acknowledged is stored, once. */
export async function killWithBacklog(kills: number): Promise<boolean> {
  const site = await newSite(["press"], lineOf(kills + 1));
  const secret = site.secrets.press as string;
  const acknowledged = new Set<number>();
  let number = 0;
  const beganMs = performance.now();
  for (let kill = 0; kill <= kills; kill += 1) {
    const gateway = await startProcess(site);
    // Each time another start of the node, with all that it made meanwhile; what was not acknowledged is sent again.
    const isLast = kill === kills;
    const packs = Array.from({ length: backlog }, (_, place) => {
      const own = number + place;
      const record = {
        boot: 100 + kill,
        seq: place,
        up: place * periodS,
        n: `ec-${kill}`,
        u: "S/m",
        v: kappaOf(own),
      };
      return { number: own, text: JSON.stringify([record]) };
    });
    number += backlog;
    const sending = sendAll(gateway.mqtt, secret, packs, acknowledged).catch(() => {});
    if (isLast) {
      await sending;
      // A burst of a new boot waits for its clock until the node has been silent for 30 s.
      const range = `from=${Date.now() - 7 * 86_400_000}&to=${Date.now() + 86_400_000}`;
      const path = `/api/points/${pointOf(kill)}/series?quantity=conductivity&buckets=1&${range}`;
      const count = async () =>
        (await gateway.json<{ count: number[] }>(path)).count.reduce((sum, one) => sum + one, 0);
      const sinceMs = performance.now();
      const rows = await lastAnswer(count, (many) => many >= measured, 300_000);
      const tookS = Math.round((performance.now() - sinceMs) / 1000);
      console.log(
        `      the last start's ${backlog} packs: ${rows} of ${measured} measurements stored ${tookS} s after the last one came`,
      );
      if ((await gateway.stop()) !== 0) throw new Error("the last stop was not in order");
    } else {
      const target = 10 + ((kill * 37) % (backlog - 20));
      const from = acknowledged.size;
      const until = performance.now() + 30_000;
      while (acknowledged.size - from < target && performance.now() < until)
        await new Promise((resolve) => setImmediate(resolve));
      await gateway.kill();
      await sending;
    }
  }
  const series = await openSqliteSeries({ folder: site.data });
  const found: number[] = [];
  for (let boot = 0; boot <= kills; boot += 1)
    for await (const rows of series.range(`reading/press/ec-${boot}[S/m]`, 0, Number.MAX_SAFE_INTEGER))
      found.push(...rows.map(({ value }) => Math.round((value ?? 0) * 1e6) - 1));
  await series.close();
  const stored = new Set(found);
  const lost = [...acknowledged].filter((one) => !stored.has(one));
  if (lost.length > 0) {
    const ofBoots = Map.groupBy(lost, (one) => Math.floor(one / backlog));
    for (const [boot, packs] of ofBoots) console.log(`      of start ${boot}: ${packs.length} lost`);
  }
  const isGood = lost.length === 0 && stored.size === found.length;
  console.log(
    `${isGood ? "good" : "GOAL MISSED"}  kills: ${kills} kill -9 with a backlog in ${Math.round((performance.now() - beganMs) / 1000)} s: ${acknowledged.size} acknowledged of ${number} sent, ${found.length} stored; ${lost.length} lost, ${found.length - stored.size} twice`,
  );
  return isGood;
}
