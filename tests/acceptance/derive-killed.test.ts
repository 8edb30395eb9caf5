import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { openLogbook } from "@drumlin/gateway/logbook";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { expect, it } from "vitest";
import { beginMs, leftWith, nowMs } from "./derive-house.ts";

const program = fileURLToPath(new URL("derive-until-killed.ts", import.meta.url));
const job = "calibration act-1";
const derived = "point/after-resin/conductivity25";

/** Runs what waits in a folder in a process of its own, until it kills itself at a point. */
function run(folder: string, point: string): NodeJS.Signals | number | null {
  const args = [program, folder, String(beginMs), String(nowMs), point];
  const { signal, status, stderr } = spawnSync(process.execPath, args, { encoding: "utf8" });
  expect(stderr).toBe("");
  return signal ?? status;
}

/** Everything that stands in a folder's series and logbook. */
async function standing(folder: string) {
  const series = await openSqliteSeries({ folder });
  const logbook = openLogbook({ folder });
  const rows: Record<string, unknown[]> = {};
  for (const name of (await series.names()).toSorted()) {
    rows[name] = [];
    for await (const some of series.range(name, 0, Number.MAX_SAFE_INTEGER)) rows[name].push(...some);
  }
  const aside = await series.staging.staged();
  const told = {
    rows,
    fills: logbook.fills({ limit: 100 }),
    words: logbook.wordsIn(0, Number.MAX_SAFE_INTEGER),
    batches: logbook.batchesIn(0, Number.MAX_SAFE_INTEGER),
    seen: logbook.seen(0, Number.MAX_SAFE_INTEGER),
    waits: logbook.derivations.waiting(),
  };
  logbook.close();
  await series.close();
  return { ...told, aside };
}
const kappas = ({ rows }: Awaited<ReturnType<typeof standing>>) => rows[derived] as { value: number }[];

it("a derivation killed with -9 again and again, at whatever point: nothing of it, then all of it, as without the kills", async () => {
  const calibration = {
    type: "calibration",
    channel: "press/ec-2",
    validFromMs: beginMs,
    points: [{ read: 0.8, true: 1.6 }],
  };
  const waiting = async () => {
    const folder = await leftWith(calibration, 6600);
    const logbook = openLogbook({ folder });
    logbook.derivations.ask({ job, fromMs: beginMs });
    logbook.close();
    return folder;
  };
  const [folder, whole] = [await waiting(), await waiting()];
  expect(run(whole, "none")).toBe(0);
  const expected = await standing(whole);
  const old = await standing(folder);
  expect(kappas(expected)[5]?.value).toBeGreaterThan(1.5 * (kappas(old)[5]?.value ?? 0));

  for (const point of ["rows are on their way aside", "rows lie aside", "told, not in force"])
    expect([point, run(folder, point)]).toEqual([point, "SIGKILL"]);
  // What lies aside is seen by nobody.
  expect(await standing(folder)).toEqual({ ...old, aside: [job] });
  for (const point of ["in force in the logbook", "rows are on their way into force"])
    expect([point, run(folder, point)]).toEqual([point, "SIGKILL"]);
  expect(run(folder, "none")).toBe(0);
  expect(await standing(folder)).toEqual(expected);
  expect(expected).toMatchObject({ aside: [], waits: [] });
  // Twice is once.
  expect(run(folder, "none")).toBe(0);
  expect(await standing(folder)).toEqual(expected);
}, 60_000);
