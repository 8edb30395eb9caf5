// `npm run soak -- influx-way [MINUTES]`: a gateway under 500 packs/s sends on to a real InfluxDB over a bad way: one that resets
// each connection and is down for 2 s of 4, then one of 20 kB/s, then a good one again. Whether all is there afterwards, what
// the log says meanwhile, and what it costs in memory.
import { rmSync } from "node:fs";
import { setTimeout as wait } from "node:timers/promises";
import { readSqliteSeries } from "@drumlin/gateway/series";
import { lastAnswer, newSite, startProcess } from "../acceptance/gateway-process.ts";
import { residentMB } from "../bench/processes.ts";
import { publishPacket } from "../bench/publish-packet.ts";
import { signedIn } from "../bench/sign-in-packet.ts";
import { startInfluxd } from "../contract/series-store/influxd.ts";
import { roughWay } from "../contract/series-store/rough-way.ts";

const minutes = Number(process.argv[2] ?? 10);
const nodes = ["press", ...Array.from({ length: 24 }, (_, place) => `node-${place}`)];
const turnMs = 1000 / (500 / nodes.length);
const ackBytes = 4;
const slowBytesPerSecond = 20_000;
/** Log lines of InfluxDB in all, and growth in the slow phase, MB. */
const [mostLines, mostGrowthMB] = [10, 60];

let wrong = 0;
function say(isRight: boolean, what: string): void {
  if (!isRight) wrong += 1;
  console.log(`${isRight ? "good " : "WRONG"} ${what}`);
}

interface InfluxAnswer {
  readonly waiting: { readonly batches: number; readonly stretches: number };
  readonly aside: readonly unknown[];
}

const influx = await startInfluxd();
const way = await roughWay(Number(new URL(influx.target.url).port));
const site = await newSite(nodes);
const { password } = influx.target.signIn as { password: string };
const gateway = await startProcess(site, ["--influx", `${way.url}/drumlin`], {
  env: { DRUMLIN_INFLUX_USER: "keeper", DRUMLIN_INFLUX_PASSWORD: password },
});
const sockets = await Promise.all(
  nodes.map((node) => signedIn(gateway.mqtt, node, site.secrets[node] as string)),
);
let [sent, acknowledged, isOver] = [0, 0, false];
for (const socket of sockets)
  socket.on("data", ({ length }) => {
    acknowledged += length / ackBytes;
  });
const publishing = (async () => {
  for (let seq = 0; !isOver; seq += 1) {
    const begunMs = performance.now();
    for (const [place, socket] of sockets.entries()) {
      const t = Date.now() / 1000;
      const payload = JSON.stringify([
        { boot: 1, seq, n: "t-1", u: "Cel", v: 18 + (seq % 50) / 100, t },
        { n: "ec-1", u: "S/m", v: 0.0412 + (seq % 70) / 1e6, t },
      ]);
      socket.write(publishPacket(nodes[place] as string, seq, payload));
      sent += 1;
    }
    await wait(Math.max(0, turnMs - (performance.now() - begunMs)));
  }
})();
const lines = () =>
  gateway
    .printed()
    .split("\n")
    .filter((line) => line.includes("InfluxDB at ")).length;
const state = () => gateway.json<InfluxAnswer>("/api/influx");

/** Goes on for so long; gives the most memory of its first quarter and of its last. */
async function phase(name: string, ms: number, each: (second: number) => void): Promise<[number, number]> {
  const memory: number[] = [];
  for (let second = 0; second < ms / 1000; second += 1) {
    each(second);
    memory.push(residentMB(gateway.pid));
    await wait(1000);
  }
  const quarter = Math.max(1, Math.floor(memory.length / 4));
  const [first, last] = [Math.max(...memory.slice(0, quarter)), Math.max(...memory.slice(-quarter))];
  console.log(
    `${name}: ${first.toFixed(0)} MB, ${last.toFixed(0)} MB at its end; ${sent} packs, ${lines()} lines of InfluxDB in the log; ${JSON.stringify((await state()).waiting)}`,
  );
  return [first, last];
}

const ms = minutes * 60_000;
await phase("good", 20_000, () => {});
const flaps = await phase("down for 2 s of 4", ms, (second) => {
  if (second % 4 === 0) way.goDown();
  if (second % 4 === 2) way.comeUp();
});
way.comeUp();
say(flaps[1] < flaps[0] + mostGrowthMB, "flapping: memory is flat");
const flapLines = lines();
say(flapLines <= 3, `flapping: ${flapLines} lines in the log`);
way.slowTo(slowBytesPerSecond);
const slow = await phase("20 kB/s", ms, () => {});
say(slow[1] < slow[0] + mostGrowthMB, "slow: memory is flat");
const behind = await state();
say(behind.waiting.batches + behind.waiting.stretches > 0, "slow: what waits is counted");
const { items } = await gateway.json<{ items: { key: string }[] }>("/api/alarms?standing=true");
const isNamed = items.some(({ key }) => key.startsWith("series-behind"));
// It is told after ten minutes.
if (minutes > 12) say(isNamed, "slow: series-behind stands");
else console.log(`series-behind stands: ${isNamed}`);
way.slowTo(Number.POSITIVE_INFINITY);
isOver = true;
await publishing;
say(
  (await lastAnswer(
    async () => acknowledged,
    (count) => count === sent,
    60_000,
  )) === sent,
  `${sent} packs, ${acknowledged} acknowledged`,
);
await wait(11_000);
const begunMs = performance.now();
const end = await lastAnswer(state, ({ waiting }) => waiting.batches + waiting.stretches === 0, 300_000);
say(
  end.waiting.batches + end.waiting.stretches === 0 && end.aside.length === 0,
  `a good way again: all is sent after ${((performance.now() - begunMs) / 1000).toFixed(0)} s; ${lines()} lines in the log`,
);
say(lines() <= mostLines, `${lines()} lines in the log in all`);
for (const socket of sockets) socket.destroy();
say((await gateway.stop()) === 0, "a stop is in order");
const look = readSqliteSeries(site.data);
let stored = 0;
for (const name of look.names.filter((one) => one.startsWith("reading/")))
  for (const rows of look.range(name, 0, Number.MAX_SAFE_INTEGER)) stored += rows.length;
look.close();
const [, there] = (await influx.ask("SELECT count(v) FROM reading"))[0] ?? [];
say(
  stored === 2 * sent && there === stored,
  `${2 * sent} readings sent, ${stored} stored, ${there} in InfluxDB`,
);
way.close();
await influx.remove();
rmSync(site.folder, { recursive: true, force: true });
console.log(`${wrong === 0 ? "1 passed, 0 failed" : `0 passed, 1 failed (${wrong} steps)`}`);
process.exit(wrong === 0 ? 0 : 1);
