import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createPipeline, type Derived, derive, finishDerivations, LiveDriver } from "@drumlin/gateway/app";
import { waterCell } from "@drumlin/gateway/fills";
import { openLogbook } from "@drumlin/gateway/logbook";
import type { JournalEntry } from "@drumlin/gateway/readings";
import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { afterAll, afterEach, describe, expect, it } from "vitest";

const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);
const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, flow: press/flow-1 } }
drums: { mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: drums/stop } }
`;
/** A pack of the press room's node: good water, so many L/min. */
const running = (lPerMin: number) => [
  { n: "t-1", u: "Cel", v: 18 },
  { n: "t-2", u: "Cel", v: 18 },
  { n: "ec-1", u: "S/m", v: 0.04 },
  { n: "ec-2", u: "S/m", v: 0.00008 },
  { n: "flow-1", u: "m3/s", v: lPerMin / 60_000 },
];
const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const nowMs = beginMs + 7000_000;

/** What is left of a life whose gateway has stopped: its data folder and its path. */
interface Left {
  readonly folder: string;
  readonly seq: number;
  readonly saved: ReturnType<ReturnType<typeof createPipeline>["snapshot"]>;
}
const left = new Map<string, Left>();
afterAll(() => {
  for (const { folder } of left.values()) rmSync(folder, { recursive: true, force: true });
});

const noFailure = (error: Error) => {
  throw error;
};

/** A gateway's path over the stores of a folder. */
async function gatewayOver(folder: string, { seq: from, saved }: Pick<Left, "seq"> & Partial<Left>) {
  const series = await openSqliteSeries({ folder });
  const logbook = openLogbook({ folder });
  const pipeline = createPipeline();
  if (saved) pipeline.restore(saved);
  const driver = new LiveDriver({
    pipeline,
    journal: { saveCheckpoint: async () => true },
    series,
    logbook,
    onOutcome: () => {},
    onEntryFailure: (_seq, error) => noFailure(error),
    onStoreFailure: noFailure,
  });
  let seq = from;
  const push = (entry: object, atS: number) => {
    seq += 1;
    driver.takeAll([{ seq, receivedAt: beginMs + atS * 1000, ...entry } as JournalEntry]);
  };
  const node = (name: string, records: object[], atS: number) =>
    push(
      {
        kind: "message",
        topic: `drumlin/1/saltmarsh-house/${name}/readings`,
        payload: new TextEncoder().encode(JSON.stringify(records)),
      },
      atS,
    );
  const close = async () => {
    await series.close();
    logbook.close();
  };
  return { series, logbook, pipeline, driver, push, node, close, seq: () => seq };
}

/** Two fills of 20 min, half an hour between them; lived once for each line. */
async function lifeWith(lineYaml: string): Promise<Left> {
  const known = left.get(lineYaml);
  if (known) return known;
  const folder = mkdtempSync(join(tmpdir(), "drumlin-derive-"));
  const { pipeline, driver, push, node, close, seq } = await gatewayOver(folder, { seq: 0 });
  push({ kind: "line", yaml: lineYaml }, 0);
  for (let at = 10; at < 6600; at += 10) {
    const runs = at < 1200 || (at >= 3000 && at < 4200);
    const wet = (at >= 1200 && at < 2900) || at >= 4200;
    node("press", running(runs ? 2.5 : 0), at);
    node("drums", [{ n: "stop", vb: wet }], at);
  }
  await driver.flush();
  const saved = pipeline.snapshot();
  await close();
  const life = { folder, seq: seq(), saved };
  left.set(lineYaml, life);
  return life;
}

/** A gateway that goes on after those two fills, over a copy of what they left. */
async function twoFills(lineYaml = yaml) {
  const life = await lifeWith(lineYaml);
  const folder = mkdtempSync(join(tmpdir(), "drumlin-derive-"));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  cpSync(life.folder, folder, { recursive: true });
  const gateway = await gatewayOver(folder, life);
  ends.push(gateway.close);
  const { series, logbook, push } = gateway;
  let acts = 0;
  const act = (given: object, atS: number) => {
    acts += 1;
    push({ kind: "act", act: { id: `act-${acts}`, by: "keeper", ...given } }, atS);
  };
  const fills = () => logbook.fills({ limit: 100 });
  const kappas = async () => {
    const found: SeriesRow[] = [];
    for await (const rows of series.range("point/after-resin/conductivity25", beginMs, nowMs))
      found.push(...rows);
    return found;
  };
  return { ...gateway, act, fills, kappas };
}

/** Derives a part of the past, with its journal entry always taken. */
function again(
  house: Pick<Parameters<typeof derive>[0], "series" | "logbook">,
  fromMs: number,
  toMs: number,
) {
  return derive({ ...house, nowMs, jobs: ["again"], announce: async () => {} }, { fromMs, toMs });
}
const hours = (from: number, to: number) => [beginMs + from * 3_600_000, beginMs + to * 3_600_000] as const;

describe("a part of the past derived anew", () => {
  it("gives what was told live, where nothing came late and nothing was corrected", async () => {
    const { series, logbook, fills } = await twoFills();
    const before = fills();
    expect(before.map(({ end }) => end)).toEqual(["float-tripped", "float-tripped"]);
    const derived = await again({ series, logbook }, ...hours(0, 2));
    expect(derived).toMatchObject({
      replaced: 0,
      fills: { same: 2, revised: 0, added: 0, withdrawn: 0 },
    });
    expect(derived?.measurements).toBeGreaterThan(5000);
    expect(fills()).toEqual(before);
  });

  it("a calibration for the past changes what that probe measured and the fills it saw; ids stay", async () => {
    const { series, logbook, driver, act, fills } = await twoFills();
    const before = fills();
    act(
      {
        type: "calibration",
        channel: "press/ec-2",
        validFromMs: beginMs + 2400_000,
        points: [{ read: 0.8, true: 1.6 }],
      },
      6600,
    );
    await driver.flush();
    const derived = await again({ series, logbook }, ...hours(0, 2));
    // Of the second fill on: κ and κ25 of one probe, each 10 s of 4,200 s.
    expect(derived?.replaced).toBe(2 * 420);
    expect(derived?.fills).toEqual({ same: 1, revised: 1, added: 0, withdrawn: 0 });
    const after = fills();
    expect(after.map(({ id }) => id)).toEqual(before.map(({ id }) => id));
    expect(after.map(({ revision }) => revision)).toEqual([1, 0]);
    expect((after[0]?.mean25 ?? 0) / (before[0]?.mean25 ?? 1)).toBeCloseTo(2, 1);
    expect(after[1]).toEqual(before[1]);
    expect(after[0]?.litres).toBe(before[0]?.litres);
    // Once more changes nothing more.
    const once = await again({ series, logbook }, ...hours(0, 2));
    expect(once).toMatchObject({ replaced: 0, fills: { same: 2 } });
  });

  it("a fill that no longer comes out is withdrawn, and stays as withdrawn", async () => {
    // Without a float: a trip after a call is a fill, whatever its meter says.
    const { series, logbook, driver, act, fills } = await twoFills(yaml.replace(", stop: drums/stop", ""));
    act(
      {
        type: "calibration",
        channel: "press/flow-1",
        validFromMs: beginMs,
        points: [{ read: 2.5, true: 0 }],
      },
      6600,
    );
    await driver.flush();
    const derived = await again({ series, logbook }, ...hours(0, 2));
    expect(derived?.fills.withdrawn).toBe(2);
    expect(fills().map(({ withdrawn, revision }) => [withdrawn, revision])).toEqual([
      [true, 1],
      [true, 1],
    ]);
  });

  it("an interval in the middle of a fill takes the whole fill", async () => {
    const { series, logbook, fills } = await twoFills();
    const before = fills();
    const derived = await again({ series, logbook }, beginMs + 600_000, beginMs + 700_000);
    expect(derived?.fills).toEqual({ same: 1, revised: 0, added: 0, withdrawn: 0 });
    expect(fills()).toEqual(before);
  });

  it("a fill that still runs is the live path's: it is neither ended nor doubled, and ends live", async () => {
    const { series, logbook, node, driver, act, fills } = await twoFills();
    for (let at = 6600; at < 7000; at += 10) {
      node("press", running(2.5), at);
      node("drums", [{ n: "stop", vb: false }], at);
    }
    act(
      {
        type: "calibration",
        channel: "press/ec-2",
        validFromMs: beginMs + 2400_000,
        points: [{ read: 0.8, true: 1.6 }],
      },
      7000,
    );
    await driver.flush();
    const before = fills()[0];
    expect(before?.endedAtMs).toBeNull();
    const derived = await again({ series, logbook }, ...hours(0, 2));
    expect(derived?.fills).toEqual({ same: 1, revised: 1, added: 0, withdrawn: 0 });
    expect(fills()).toHaveLength(3);
    expect(fills()[0]).toEqual(before);
    node("drums", [{ n: "stop", vb: true }], 7005);
    node("press", running(0), 7010);
    // An edge of a float counts at its second reading.
    node("drums", [{ n: "stop", vb: true }], 7010);
    await driver.flush();
    expect(fills()[0]).toMatchObject({ id: before?.id, end: "float-tripped", revision: 0 });
  });

  it("what was derived is not taken back by an entry that is run again after a crash", async () => {
    const { series, logbook, driver, act, fills } = await twoFills();
    const told = fills();
    act(
      {
        type: "calibration",
        channel: "press/ec-2",
        validFromMs: beginMs,
        points: [{ read: 0.8, true: 1.6 }],
      },
      6600,
    );
    await driver.flush();
    await again({ series, logbook }, ...hours(0, 2));
    const derived = fills();
    expect(derived.map(({ revision }) => revision)).toEqual([1, 1]);
    logbook.record(told);
    expect(fills()).toEqual(derived);
  });

  /** Ten times as much as it read: 8 uS/cm, over the 5 that resin may let through. */
  const tenTimes = {
    type: "calibration",
    channel: "press/ec-2",
    validFromMs: beginMs,
    points: [{ read: 0.8, true: 8 }],
  };
  const bad = "water over the limit of 5 µS/cm came in (After resin)";

  it("words of then are told anew; the last one is the live path's", async () => {
    const { series, logbook, driver, act } = await twoFills();
    const before = logbook.wordsIn(beginMs, nowMs);
    expect(before.map(({ verdict }) => verdict)).toEqual(["unknown", "unknown"]);
    act(tenTimes, 6600);
    await driver.flush();
    await again({ series, logbook }, ...hours(0, 2));
    const after = logbook.wordsIn(beginMs, nowMs);
    expect(after.map(({ verdict }) => verdict)).toEqual(["unknown", "hold", "unknown"]);
    expect(after[1]).toMatchObject({ drum: "mix", reasons: [bad] });
    expect(after.at(-1)).toEqual(before.at(-1));
  });

  it("bad water that it finds holds the drum now, unless somebody answered for it since", async () => {
    for (const isAnswered of [false, true]) {
      const house = await twoFills();
      const { driver, act, push, pipeline } = house;
      const word = () => pipeline.board.get(waterCell, "mix");
      const release = { type: "release", drum: "mix", reason: "hand-test", value25UsPerCm: 1 };
      if (isAnswered) act(release, 6600);
      act(tenTimes, 6601);
      await driver.flush();
      expect(word()?.verdict).toBe(isAnswered ? "use" : "unknown");
      const entry = (derived: Derived) =>
        push({ kind: "derived", job: "again", fromMs: beginMs, toMs: nowMs, asOfSeq: 0, ...derived }, 6602);
      const announce = async (derived: Derived) => entry(derived);
      await derive({ ...house, nowMs, jobs: ["again"], announce }, { fromMs: beginMs, toMs: nowMs });
      await driver.flush();
      expect([word()?.verdict, word()?.reasons]).toEqual(isAnswered ? ["use", []] : ["hold", [bad]]);
    }
  });
});

describe("a derivation comes into force whole, or not at all", () => {
  /** Two fills, a calibration for the past that is not derived yet, and what stands until then. */
  async function calibrated() {
    const house = await twoFills();
    const calibration = {
      type: "calibration",
      channel: "press/ec-2",
      validFromMs: beginMs,
      points: [{ read: 0.8, true: 1.6 }],
    };
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

  it("cut before it is in force, what lies aside goes at the next start", async () => {
    const house = await calibrated();
    const { staging } = house.series;
    await staging.stage("calibration act-1", [
      { series: "point/after-resin/conductivity25", tMs: beginMs + 5000, value: 99, flag: 1 },
    ]);
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
