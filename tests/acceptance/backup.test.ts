import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { startGateway } from "@drumlin/gateway/app";
import { readSqliteSeries } from "@drumlin/gateway/series";
import { connectAsync } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { backUp } from "../../gateway/src/app/backup/back-up.ts";
import { sumOf } from "../../gateway/src/app/backup/manifest.ts";
import { restore } from "../../gateway/src/app/backup/restore.ts";
import { drumlin } from "./command-line.ts";
import { newSite, smallestLine, startProcess } from "./gateway-process.ts";

const series = "reading/press/ec-1[S/m]";
const firstMs = Date.UTC(2026, 4, 1);
const fresh = () => join(mkdtempSync(join(tmpdir(), "drumlin-backup-")), "new");

let site: Awaited<ReturnType<typeof newSite>>;
let backup: string;
/** Packs that were acknowledged before the backup began, and all that were at its end. */
let before = 0;
let after = 0;

beforeAll(async () => {
  site = await newSite(["press"]);
  const gateway = await startProcess(site);
  const client = await connectAsync(`mqtt://127.0.0.1:${gateway.mqtt}`, {
    username: "press",
    password: site.secrets.press as string,
  });
  let isOver = false;
  const send = async () => {
    const n = after;
    await client.publishAsync(
      "drumlin/1/saltmarsh-house/press/readings",
      JSON.stringify([{ boot: 5, seq: n, n: "ec-1", u: "S/m", v: (n + 1) * 1e-6, t: firstMs / 1000 + n }]),
      { qos: 1 },
    );
    after += 1;
  };
  while (after < 200) await send();
  before = after;
  const sending = (async () => {
    while (!isOver) await send();
  })();
  backup = fresh();
  const done = await drumlin(["backup", "--data", site.data, "--to", backup]);
  isOver = true;
  await sending;
  await client.endAsync();
  expect([done.code, await gateway.stop()]).toEqual([0, 0]);
  expect(done.errors).toContain("100 %  manifest.json");
}, 120_000);

afterAll(() => {
  for (const path of [site.data, backup]) rmSync(path, { recursive: true, force: true });
});

const noProgress = () => {};
/** Why a gateway does not start on a folder; null where it does. */
async function refusalOf(data: string): Promise<string | null> {
  const where = { host: "127.0.0.1", port: 0 };
  const options = { data, lineYaml: smallestLine, http: where, mqtt: where, log: () => {} };
  try {
    const gateway = await startGateway(options);
    await gateway.stop();
    return null;
  } catch (error) {
    return (error as Error).message;
  }
}

describe("a backup of a gateway that goes on", () => {
  it("put back into a new folder and started, it has everything up to its moment, nothing twice", async () => {
    const data = fresh();
    expect(await restore({ from: backup, data, onProgress: noProgress })).toMatchObject({ drumlin: 1 });
    const gateway = await startProcess({ ...site, data });
    expect(await gateway.stop()).toBe(0);
    const look = readSqliteSeries(data);
    const times = [...look.range(series, 0, Number.MAX_SAFE_INTEGER)].flat().map(({ tMs }) => tMs);
    look.close();
    expect(times.length).toBeGreaterThanOrEqual(before);
    expect(times.length).toBeLessThanOrEqual(after);
    expect(times).toEqual(times.map((_, n) => firstMs + n * 1000));
    rmSync(data, { recursive: true });
  });

  it("put back, but cut off at any moment: a start refuses the folder by name, and the same command begins anew", async () => {
    const whole = fresh();
    const seen: number[] = [];
    const onProgress = (at: { doneBytes: number; ofBytes: number }) => seen.push(at.doneBytes / at.ofBytes);
    const { files } = await restore({ from: backup, data: whole, onProgress });
    const all = files.reduce((sum, { bytes }) => sum + bytes, 0);
    const before = files.map((_, at) => files.slice(0, at).reduce((sum, { bytes }) => sum + bytes, 0));
    expect(seen).toEqual(before.map((bytes) => bytes / all));
    expect(readdirSync(whole).sort()).toEqual(files.map(({ name }) => name).sort());
    const sumsOf = (folder: string) => Promise.all(files.map(({ name }) => sumOf(join(folder, name))));
    const sums = await sumsOf(whole);
    // The first file is being copied; all copied, none in its place; some in theirs; all, and the mark not away yet; away.
    for (const moved of [null, 0, 3, files.length, "all"] as const) {
      const data = fresh();
      const beside = join(data, "restoring");
      mkdirSync(beside, { recursive: true });
      if (moved === null) writeFileSync(join(beside, "checkpoint.state"), "half of i");
      else {
        const inPlace = moved === "all" ? files.length : moved;
        for (const [index, { name }] of files.entries())
          cpSync(join(whole, name), join(index < inPlace ? data : beside, name));
        if (moved !== "all") {
          cpSync(join(backup, "manifest.json"), join(beside, "manifest.json"));
          expect(await refusalOf(data)).toMatch(
            /^journal: .* is not whole: a restore into it goes on, or was cut off\. Run/,
          );
        }
      }
      if (moved !== "all") {
        await restore({ from: backup, data, onProgress: noProgress });
        expect(readdirSync(data).sort()).toEqual(readdirSync(whole).sort());
      }
      expect(await sumsOf(data)).toEqual(sums);
      if (moved === "all") expect(await refusalOf(data)).toBeNull();
      rmSync(data, { recursive: true });
    }
    rmSync(whole, { recursive: true });
  });

  it("holds messages, and secrets only where they are asked for", async () => {
    mkdirSync(join(site.data, "secrets"), { recursive: true });
    writeFileSync(join(site.data, "secrets", "smtp-password"), "sm7p-s3cret", { mode: 0o600 });
    const [without, withThem] = [fresh(), fresh()];
    const needs = { data: site.data, nowMs: Date.now(), onProgress: noProgress };
    const names = ({ files }: { files: readonly { name: string }[] }) => files.map(({ name }) => name);
    expect(names(await backUp({ ...needs, to: without, withSecrets: false }))).toContain(
      "notifications.sqlite",
    );
    expect(existsSync(join(without, "secrets"))).toBe(false);
    const all = names(await backUp({ ...needs, to: withThem, withSecrets: true }));
    expect(all).toContain("secrets/smtp-password");
    expect(all.indexOf("notifications.sqlite")).toBeLessThan(all.indexOf("logbook.sqlite"));
    const data = fresh();
    await restore({ from: withThem, data, onProgress: noProgress });
    const path = join(data, "secrets", "smtp-password");
    expect([readFileSync(path, "utf8"), statSync(path).mode & 0o777]).toEqual(["sm7p-s3cret", 0o600]);
    expect(statSync(join(data, "secrets")).mode & 0o777).toBe(0o700);
    for (const folder of [without, withThem, data]) rmSync(folder, { recursive: true });
  });

  it("a gateway that started in the folder meanwhile keeps it", async () => {
    const data = fresh();
    const onProgress = ({ file }: { file: string }) => {
      if (file === "clock.json") writeFileSync(join(data, "lock.db"), "");
    };
    await expect(restore({ from: backup, data, onProgress })).rejects.toThrow("was put to use meanwhile");
    expect(readdirSync(data)).toEqual(["lock.db"]);
    rmSync(data, { recursive: true });
  });

  it("takes nothing from outside its folder, whatever its manifest says", async () => {
    const [evil, data] = [fresh(), fresh()];
    cpSync(backup, evil, { recursive: true });
    const manifest = JSON.parse(readFileSync(join(evil, "manifest.json"), "utf8"));
    manifest.files[0].name = "../elsewhere";
    writeFileSync(join(evil, "manifest.json"), JSON.stringify(manifest));
    await expect(restore({ from: evil, data, onProgress: noProgress })).rejects.toThrow(
      "can't be understood",
    );
    rmSync(evil, { recursive: true });
  });

  it("one that is damaged, not whole, or for a folder in use is refused by name, and nothing is put back", async () => {
    const data = fresh();
    const into = (folder: string, from = backup) => restore({ from, data: folder, onProgress: noProgress });
    const path = join(backup, "series.sqlite");
    const bytes = readFileSync(path);
    const damaged = Buffer.from(bytes);
    damaged[bytes.length - 100] = (damaged[bytes.length - 100] as number) ^ 1;
    writeFileSync(path, damaged);
    await expect(into(data)).rejects.toThrow(
      "series.sqlite is damaged (its sum is another): nothing was put back.",
    );
    writeFileSync(path, bytes);
    expect(readdirSync(data)).toEqual([]);
    await expect(into(site.data)).rejects.toThrow("is not empty: name a new folder.");
    await expect(into(data, site.data)).rejects.toThrow("manifest.json is missing");
  });
});

it("drumlin export series: a stretch of it as CSV", async () => {
  const done = await drumlin([
    ...["export", "series", "--data", site.data, "--name", "reading/press/ec-1"],
    ...["--from", "2026-05-01T00:00:02Z", "--to", "2026-05-01T00:00:04Z"],
  ]);
  const line = (second: number, value: string) =>
    `reading/press/ec-1[S/m],2026-05-01T00:00:0${second}.000Z,${value},1\r\n`;
  expect(done.out).toBe(`series,time,value,flag\r\n${line(2, "0.000003")}${line(3, "0.000004")}`);
});
