// `npm run soak -- full-disk`: a gateway on a small file system of its own, which fills up, is full, and has room again:
// what goes first, who is answered meanwhile, that it goes on by itself, and that nothing acknowledged is lost. Needs the
// right to mount.
import { existsSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { openAccounts } from "@drumlin/gateway/accounts";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { lastAnswer, newSite, startProcess } from "../acceptance/gateway-process.ts";
import { signInPacket } from "../bench/sign-in-packet.ts";
import { residentMB } from "./attack/target.ts";
import { numberedPacks } from "./numbered-packs.ts";
import { sentOn } from "./sent-on.ts";
import { mountSmallDisk } from "./small-disk.ts";

const hourMs = 3_600_000;
const password = "eel grass by night";
const preload = new URL("../acceptance/fake-clock.mjs", import.meta.url).href;

const beside = await sentOn(process.argv[2] === "influx");
const disk = mountSmallDisk("320m");
process.env.TMPDIR = disk.place;
const beganMs = performance.now();
let wrong = 0;

/** A line of the report; what is not as it should be is counted. */
function say(isRight: boolean, what: string): void {
  if (!isRight) wrong += 1;
  const s = ((performance.now() - beganMs) / 1000).toFixed(0).padStart(4);
  console.log(`${isRight ? "good " : "WRONG"} ${s} s  ${what}`);
}

const site = await newSite(["press", "level"]);
const accounts = openAccounts({ folder: site.data, now: Date.now });
await accounts.people.add({ name: "Wren", role: "operator", password, by: "soak" });
accounts.close();
const clockFile = join(site.folder, "clock");

const packs = numberedPacks(site.secrets.press as string);
const { acknowledged } = packs;

/** Else a gateway goes on with its own time, and refuses as too far ahead what comes before it believes the leap. */
const forgetTime = () => rmSync(join(site.data, "clock.json"), { force: true });

/** A day of packs, a minute apart, on a gateway whose clock is so many hours behind. */
async function livedDay(hoursAgo: number): Promise<void> {
  forgetTime();
  writeFileSync(clockFile, `${-hoursAgo * hourMs} 1`);
  const gateway = await startProcess(site, beside.more, {
    nodeArguments: ["--import", preload],
    env: { TEST_CLOCK_FILE: clockFile, ...beside.env },
  });
  const untilMs = Date.now() - hoursAgo * hourMs;
  await packs.sendPast(gateway.mqtt, untilMs - 20 * hourMs, untilMs - 1000);
  if ((await gateway.stop()) !== 0) throw new Error("a day's stop was not in order");
}

/** The CONNACK's return code of another node; null where there was none in 5 s. */
function connackOf(port: number): Promise<number | null> {
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1", () =>
      socket.write(signInPacket("level", "level", site.secrets.level as string)),
    );
    const over = (code: number | null) => {
      clearTimeout(timer);
      socket.destroy();
      resolve(code);
    };
    const timer = setTimeout(() => over(null), 5000);
    socket.on("data", (chunk: Buffer) => over(chunk[3] ?? null));
    socket.on("error", () => over(null));
    socket.on("close", () => over(null));
  });
}

type Gateway = Awaited<ReturnType<typeof startProcess>>;
const printed = (gateway: Gateway, words: RegExp, withinMs: number) =>
  lastAnswer(
    async () => gateway.printed(),
    (text) => words.test(text),
    withinMs,
  ).then((text) => words.test(text));
const journals = () => readdirSync(site.data).filter((name) => /^journal-\d+\.sqlite$/.test(name));
const json = (body: object) => ({
  method: "POST",
  headers: { "content-type": "application/json" },
  body: JSON.stringify(body),
});

async function fillsUp(gateway: Gateway): Promise<void> {
  say(
    await lastAnswer(
      async () => existsSync(join(site.data, "ballast")),
      (is) => is,
      30_000,
    ),
    `16 MB are held back while there is plenty (${disk.freeMB().toFixed(0)} MB free)`,
  );
  const before = journals().length;
  disk.fillTo(12);
  say(await printed(gateway, /held back are given up/, 30_000), "first the 16 MB held back");
  disk.fillTo(12);
  say(await printed(gateway, /only the last day is kept/, 30_000), "then the journal beyond a day");
  const left = await lastAnswer(
    async () => journals().length,
    (count) => count < before,
    30_000,
  );
  say(left < before, `its files: ${before} before, ${left} after`);
  say(
    await printed(gateway, /the oldest day's readings are let go/, 60_000),
    "then the oldest day's readings",
  );
  say(
    await printed(gateway, /there is nothing more to let go/, 90_000),
    "until there is nothing more to let go",
  );
  const alarms = () =>
    gateway.json<{ items: { key: string; priority: string }[] }>("/api/alarms?standing=true");
  const standing = await lastAnswer(
    alarms,
    ({ items }) => items.some(({ key }) => key.startsWith("disk-low")),
    90_000,
  );
  const low = standing.items.find(({ key }) => key.startsWith("disk-low"));
  say(low !== undefined, `disk-low stands: ${JSON.stringify(low?.priority)}`);
}

async function isFull(gateway: Gateway): Promise<void> {
  const before = residentMB(gateway.pid);
  disk.fillTo(0);
  const fullAtMs = performance.now();
  const readiness = async () => (await gateway.api("/readyz")).status;
  say((await lastAnswer(readiness, (status) => status === 503, 30_000)) === 503, "full: /readyz says 503");
  disk.fillTo(0);
  const had = acknowledged.size;
  await wait(15_000);
  say(acknowledged.size === had, `no PUBACK in 15 s (${acknowledged.size - had})`);
  say((await connackOf(gateway.mqtt)) === 3, "CONNECT is answered: server unavailable");
  const askedMs = performance.now();
  const note = await gateway.api("/api/notes", json({ text: "full" }));
  const { code } = (await note.json()) as { code?: string };
  say(
    note.status === 503 && performance.now() - askedMs < 10_000,
    `an act is answered: ${note.status} ${code} after ${Math.round(performance.now() - askedMs)} ms`,
  );
  const signIn = await fetch(
    `http://127.0.0.1:${gateway.http}/api/sign-in`,
    json({ name: "Wren", password }),
  );
  const cookie = signIn.headers
    .getSetCookie()
    .map((one) => one.split(";")[0])
    .join("; ");
  const line = await fetch(`http://127.0.0.1:${gateway.http}/api/line`, { headers: { cookie } });
  say(
    signIn.status === 200 && line.status === 200,
    `somebody signs in (${signIn.status}) and sees the line (${line.status})`,
  );
  const wrongOne = await fetch(
    `http://127.0.0.1:${gateway.http}/api/sign-in`,
    json({ name: "Wren", password: "not that one" }),
  );
  say(wrongOne.status === 401, `a wrong password is wrong (${wrongOne.status})`);
  await wait(Math.max(0, 45_000 - (performance.now() - fullAtMs)));
  const after = residentMB(gateway.pid);
  say(after < before * 1.2, `memory ${Math.round(before)} → ${Math.round(after)} MB after 45 s without room`);
}

async function hasRoom(gateway: Gateway): Promise<void> {
  const had = acknowledged.size;
  const sinceMs = performance.now();
  disk.makeRoom();
  const readiness = async () => (await gateway.api("/readyz")).status;
  say(
    (await lastAnswer(readiness, (status) => status === 200, 30_000)) === 200,
    "room again: ready by itself",
  );
  const more = await lastAnswer(
    async () => acknowledged.size,
    (count) => count > had + 40,
    30_000,
  );
  say(
    more > had + 40,
    `packs are acknowledged again ${Math.round(performance.now() - sinceMs)} ms after there was room`,
  );
  const note = await gateway.api("/api/notes", json({ text: "room" }));
  say(note.status === 200, `an act is taken (${note.status})`);
}

async function allStored(): Promise<void> {
  const series = await openSqliteSeries({ folder: site.data });
  const found: number[] = [];
  for await (const rows of series.range("reading/press/ec-1[S/m]", 0, Number.MAX_SAFE_INTEGER))
    for (const { value } of rows) found.push(Math.round((value ?? 0) * 1e7) - 1);
  await series.close();
  const stored = new Set(found);
  // Readings of the oldest days were let go on purpose.
  const lost = [...acknowledged].filter((number) => !stored.has(number) && number >= firstKept);
  say(
    lost.length === 0 && stored.size === found.length,
    `${acknowledged.size} acknowledged, ${found.length} stored, ${lost.length} lost since the days that were let go, ${found.length - stored.size} twice`,
  );
}

let firstKept = 0;
try {
  for (const hoursAgo of [100, 76, 52, 28]) await livedDay(hoursAgo);
  firstKept = packs.next();
  console.log(
    `four days lived: ${firstKept} packs, ${journals().length} journal files, ${disk.freeMB().toFixed(0)} MB free`,
  );
  forgetTime();
  const gateway = await startProcess(site, beside.more, beside);
  const node = packs.goodNode(gateway.mqtt);
  await lastAnswer(
    async () => acknowledged.size,
    (count) => count > firstKept + 20,
    30_000,
  );
  await fillsUp(gateway);
  await isFull(gateway);
  await hasRoom(gateway);
  await beside.judge(gateway, new Set(acknowledged), say);
  disk.fillTo(0);
  await lastAnswer(
    async () => (await gateway.api("/readyz")).status,
    (status) => status === 503,
    60_000,
  );
  const stopMs = performance.now();
  await gateway.stop();
  const tookMs = performance.now() - stopMs;
  say(tookMs < 10_000, `SIGTERM ends it on a full disk after ${Math.round(tookMs)} ms`);
  await node.stop();
  const startMs = performance.now();
  const again = await startProcess(site, beside.more, beside).catch((error: Error) => error.message);
  if (typeof again === "string")
    say(
      performance.now() - startMs < 10_000,
      `a start on the full disk ends after ${Math.round(performance.now() - startMs)} ms: ${again.trim().split("\n").at(-1)}`,
    );
  else {
    say(true, "a start on the full disk comes up");
    await again.stop();
  }
  disk.makeRoom();
  const last = await startProcess(site, beside.more, beside);
  await beside.judge(last, acknowledged, say);
  say((await last.stop()) === 0, "with room it starts, and stops in order");
  await allStored();
} finally {
  await beside.remove();
  disk.unmount();
}
console.log(`${wrong === 0 ? "1 passed, 0 failed" : `0 passed, 1 failed (${wrong} steps)`}`);
process.exitCode = wrong === 0 ? 0 : 1;
process.exit();
