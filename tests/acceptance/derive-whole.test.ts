import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { createCalendar, derive, finishDerivations, pastOnThread } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import { NamedRowsGathered, openSqliteSeries } from "@drumlin/gateway/series";
import { describe, expect, it } from "vitest";
import { DerivationJobs } from "../../gateway/src/app/derivation-job.ts";
import { beginMs, leftWith, nowMs, twoFills } from "./derive-house.ts";
import { type DerivingPoint, deriveWaiting } from "./derive-waiting.ts";

const calibration = {
  type: "calibration",
  channel: "press/ec-2",
  validFromMs: beginMs,
  points: [{ read: 0.8, true: 1.6 }],
};

describe("a derivation comes into force whole, or not at all", () => {
  /** Two fills, a calibration for the past that is not derived yet, and what stands until then. */
  async function calibrated() {
    const house = await twoFills();
    house.act(calibration, 6600);
    await house.driver.flush();
    const stands = async () => ({ fills: house.fills(), kappas: await house.kappas() });
    const old = await stands();
    const interval = { fromMs: beginMs, toMs: nowMs };
    const needs = { ...house, nowMs, jobs: ["calibration act-1"], announce: async () => {} };
    return { ...house, stands, old, interval, needs };
  }
  type House = Awaited<ReturnType<typeof calibrated>>;
  const isNew = async ({ stands, old }: House) => {
    const { fills, kappas } = await stands();
    return [
      fills.every(({ revision }) => revision === 1),
      kappas.every(({ value }, index) => (value ?? 0) > 1.5 * (old.kappas[index]?.value ?? 0)),
    ];
  };

  it("one whose journal entry is not taken changes nothing, and leaves nothing aside", async () => {
    const house = await calibrated();
    const announce = () => Promise.reject(new Error("the disk is full"));
    await expect(derive({ ...house.needs, announce }, house.interval)).rejects.toThrow("the disk is full");
    expect(await house.stands()).toEqual(house.old);
    expect(await house.series.staging.staged()).toEqual([]);
    expect(house.logbook.derivations.isDone("calibration act-1")).toBe(false);
  });

  it("on a thread of its own it gives the same, and goes on only when live work is calm", async () => {
    const [here, there] = [await calibrated(), await calibrated()];
    const pieces: number[] = [];
    const whenCalm = async () => void pieces.push(pieces.length);
    const run = pastOnThread({ folder: there.folder, calendar: createCalendar(), whenCalm });
    const derived = await derive({ ...there.needs, run }, there.interval);
    expect(derived).toEqual(await derive(here.needs, here.interval));
    expect(await there.stands()).toEqual(await here.stands());
    expect(await isNew(there)).toEqual([true, true]);
    expect(pieces.length).toBeGreaterThan(2);
  });

  it("somebody asks for it at a gateway: it waits, runs beside what is live, and is in force; a stop loses none", async () => {
    const house = await calibrated();
    const told: string[] = [];
    const jobsOf = () =>
      new DerivationJobs({
        ...house,
        journal: { lastSeq: 1, append: async () => 2 },
        calendar: createCalendar(),
        nowMs: () => nowMs,
        line: () => house.pipeline.line(),
        run: pastOnThread({ folder: house.folder, calendar: createCalendar(), whenCalm: async () => {} }),
        flush: () => house.driver.flush(),
        log: (text) => told.push(text),
      });
    const before = jobsOf();
    before.askSince(beginMs, "Mara");
    expect(before.state()).toEqual({ running: null, waiting: 1, failure: null });
    await before.stop();
    const jobs = jobsOf();
    jobs.start();
    await expect.poll(() => jobs.state().running?.fromMs).toBe(beginMs);
    await expect
      .poll(() => jobs.state(), { timeout: 30_000 })
      .toEqual({ running: null, waiting: 0, failure: null });
    expect(await isNew(house)).toEqual([true, true]);
    expect(told).toEqual([
      expect.stringMatching(/^derived since 2026-03-03T04:00:00.000Z: \d+ measurements/),
    ]);
    await jobs.stop();
  });

  it("a thread that is ended, or can't read the files, changes nothing", async () => {
    const house = await calibrated();
    const ended = new AbortController();
    const whenCalm = async () => ended.abort();
    const run = pastOnThread({ folder: house.folder, calendar: createCalendar(), whenCalm });
    await expect(derive({ ...house.needs, run, signal: ended.signal }, house.interval)).rejects.toThrow(
      "aborted",
    );
    const nowhere = pastOnThread({ folder: "/dev/null", calendar: createCalendar(), whenCalm });
    await expect(derive({ ...house.needs, run: nowhere }, house.interval)).rejects.toThrow("holds no series");
    expect(await house.stands()).toEqual(house.old);
    expect(await house.series.staging.staged()).toEqual([]);
  });

  it("one that is given up in the middle changes nothing", async () => {
    const house = await calibrated();
    let asked = 0;
    const isCancelled = () => {
      asked += 1;
      return asked === 1;
    };
    expect(await derive({ ...house.needs, isCancelled }, house.interval)).toBeNull();
    expect(asked).toBe(1);
    expect(await house.stands()).toEqual(house.old);
    expect(await house.series.staging.staged()).toEqual([]);
  });

  it("while it runs nobody sees any of it; then all of it at once", async () => {
    const house = await calibrated();
    let seen: unknown = null;
    const announce = async () => {
      seen = await house.stands();
      expect(await house.series.staging.staged()).toEqual(["calibration act-1"]);
    };
    await derive({ ...house.needs, announce }, house.interval);
    expect(seen).toEqual(house.old);
    expect(await isNew(house)).toEqual([true, true]);
  });

  it("what lies aside is on disk before it comes into force: a power loss takes nothing of it", async () => {
    const house = await calibrated();
    const { staging } = house.series;
    const steps: string[] = [];
    const told = <Given extends unknown[], Result>(step: string, work: (...given: Given) => Result) => {
      return (...given: Given): Result => {
        if (steps.at(-1) !== step) steps.push(step);
        return work(...given);
      };
    };
    const watched = {
      ...house.needs,
      series: {
        names: () => house.series.names(),
        range: house.series.range.bind(house.series),
        staging: {
          ...staging,
          stage: told("put aside", staging.stage),
          sync: told("on disk", staging.sync),
          publish: told("in force", staging.publish),
        },
      },
      announce: told("journaled", async () => {}),
    };
    await derive(watched, house.interval);
    expect(steps).toEqual(["put aside", "on disk", "journaled", "in force"]);
  });

  it("cut before it is in force, what lies aside goes at the next start", async () => {
    const house = await calibrated();
    const { staging } = house.series;
    const rows = new NamedRowsGathered(1);
    rows.add("point/after-resin/conductivity25", beginMs + 5000, 99, 1);
    await staging.stage("calibration act-1", [rows.rows()]);
    expect(await staging.staged()).toEqual(["calibration act-1"]);
    await finishDerivations(staging, house.logbook.derivations);
    expect(await staging.staged()).toEqual([]);
    expect(await house.stands()).toEqual(house.old);
  });

  it("cut right after the logbook has it, the next start brings it to its end", async () => {
    const house = await calibrated();
    const { staging } = house.series;
    const cut = {
      ...house.needs,
      series: {
        names: () => house.series.names(),
        range: house.series.range.bind(house.series),
        staging: { ...staging, publish: () => Promise.reject(new Error("killed")) },
      },
    };
    await expect(derive(cut, house.interval)).rejects.toThrow("killed");
    expect(await isNew(house)).toEqual([true, false]);
    await finishDerivations(staging, house.logbook.derivations);
    expect(await isNew(house)).toEqual([true, true]);
    expect(await staging.staged()).toEqual([]);
    // Twice is once.
    await finishDerivations(staging, house.logbook.derivations);
    expect(await isNew(house)).toEqual([true, true]);
  });
});

const program = fileURLToPath(new URL("derive-until-killed.ts", import.meta.url));
const job = "calibration act-1";
const derived = "point/after-resin/conductivity25";
const ever = [0, Number.MAX_SAFE_INTEGER] as const;

/** Runs what waits in a folder in a process of its own, which kills itself at a point. */
function killedAt(folder: string, point: DerivingPoint): void {
  const args = [program, folder, String(beginMs), String(nowMs), point];
  const { signal, stderr } = spawnSync(process.execPath, args, { encoding: "utf8" });
  expect([point, signal, stderr]).toEqual([point, "SIGKILL", ""]);
}

/** Opens a folder for a while. */
async function within<Result>(
  folder: string,
  work: (stores: Parameters<typeof deriveWaiting>[0]) => Promise<Result> | Result,
): Promise<Result> {
  const stores = { series: await openSqliteSeries({ folder }), logbook: openLogbook({ folder }) };
  try {
    return await work(stores);
  } finally {
    stores.logbook.close();
    await stores.series.close();
  }
}
const deriveWhole = (folder: string) =>
  within(folder, (stores) => deriveWaiting(stores, { fromMs: beginMs, toMs: nowMs }));

/** Everything that stands in a folder's series and logbook, and what lies aside. */
const standing = (folder: string) =>
  within(folder, async ({ series, logbook }) => {
    const rows: Record<string, { readonly value: number | null }[]> = {};
    for (const name of (await series.names()).toSorted()) {
      rows[name] = [];
      for await (const some of series.range(name, ...ever)) rows[name].push(...some);
    }
    return {
      rows,
      fills: logbook.fills({ limit: 100 }),
      words: logbook.wordsIn(...ever),
      batches: logbook.batchesIn(...ever),
      seen: logbook.seen(...ever),
      waits: logbook.derivations.waiting(),
      aside: await series.staging.staged(),
    };
  });

it("a derivation killed with -9 again and again: nothing of it stands, then all of it, as without the kills", async () => {
  const waiting = async () => {
    const folder = await leftWith(calibration, 6600);
    await within(folder, ({ logbook }) => logbook.derivations.ask({ job, fromMs: beginMs }));
    return folder;
  };
  const [folder, whole] = [await waiting(), await waiting()];
  const old = await standing(folder);
  await deriveWhole(whole);
  const expected = await standing(whole);
  expect(expected).toMatchObject({ aside: [], waits: [] });
  expect(expected.rows[derived]?.[5]?.value).toBeGreaterThan(1.5 * (old.rows[derived]?.[5]?.value ?? 0));

  killedAt(folder, "told, not in force");
  // What lies aside is seen by nobody.
  expect(await standing(folder)).toEqual({ ...old, aside: [job] });
  killedAt(folder, "in force in the logbook");
  killedAt(folder, "rows are on their way into force");
  await deriveWhole(folder);
  expect(await standing(folder)).toEqual(expected);
}, 120_000);
