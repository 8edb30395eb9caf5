import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createPipeline, derive, LiveDriver } from "@drumlin/gateway/app";
import { openLogbook } from "@drumlin/gateway/logbook";
import type { JournalEntry } from "@drumlin/gateway/readings";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { afterEach, describe, expect, it } from "vitest";

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

/** A gateway's path over real stores; two fills of 20 min, half an hour between them. */
async function twoFills(lineYaml = yaml) {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-derive-"));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  const series = await openSqliteSeries({ folder });
  ends.push(() => series.close());
  const logbook = openLogbook({ folder });
  ends.push(() => logbook.close());
  const pipeline = createPipeline();
  const driver = new LiveDriver({
    pipeline,
    journal: { saveCheckpoint: async () => true },
    series,
    logbook,
    onOutcome: () => {},
    onEntryFailure: (_seq, error) => {
      throw error;
    },
    onStoreFailure: (error) => {
      throw error;
    },
  });
  let seq = 0;
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
  push({ kind: "line", yaml: lineYaml }, 0);
  let acts = 0;
  const act = (given: object, atS: number) => {
    acts += 1;
    push({ kind: "act", act: { id: `act-${acts}`, by: "keeper", ...given } }, atS);
  };
  for (let at = 5; at < 6600; at += 5) {
    const runs = at < 1200 || (at >= 3000 && at < 4200);
    const wet = (at >= 1200 && at < 2900) || at >= 4200;
    node("press", running(runs ? 2.5 : 0), at);
    node("drums", [{ n: "stop", vb: wet }], at);
  }
  await driver.flush();
  const line = pipeline.line();
  if (!line) throw new Error("no line");
  const fills = () => logbook.fills({ limit: 100 });
  return { series, logbook, line, driver, node, act, fills };
}

const nowMs = beginMs + 7000_000;
const hours = (from: number, to: number) => [beginMs + from * 3_600_000, beginMs + to * 3_600_000] as const;

describe("a part of the past derived anew", () => {
  it("gives what was told live, where nothing came late and nothing was corrected", async () => {
    const { series, logbook, fills } = await twoFills();
    const before = fills();
    expect(before.map(({ end }) => end)).toEqual(["float-tripped", "float-tripped"]);
    const derived = await derive({ series, logbook, nowMs }, ...hours(0, 2));
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
    const derived = await derive({ series, logbook, nowMs }, ...hours(0, 2));
    // Of the second fill on: κ and κ25 of one probe, each 5 s of 4,200 s.
    expect(derived?.replaced).toBe(2 * 840);
    expect(derived?.fills).toEqual({ same: 1, revised: 1, added: 0, withdrawn: 0 });
    const after = fills();
    expect(after.map(({ id }) => id)).toEqual(before.map(({ id }) => id));
    expect(after.map(({ revision }) => revision)).toEqual([1, 0]);
    expect((after[0]?.mean25 ?? 0) / (before[0]?.mean25 ?? 1)).toBeCloseTo(2, 1);
    expect(after[1]).toEqual(before[1]);
    expect(after[0]?.litres).toBe(before[0]?.litres);
    // Once more changes nothing more.
    const again = await derive({ series, logbook, nowMs }, ...hours(0, 2));
    expect(again).toMatchObject({ replaced: 0, fills: { same: 2 } });
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
    const derived = await derive({ series, logbook, nowMs }, ...hours(0, 2));
    expect(derived?.fills.withdrawn).toBe(2);
    expect(fills().map(({ withdrawn, revision }) => [withdrawn, revision])).toEqual([
      [true, 1],
      [true, 1],
    ]);
  });

  it("an interval in the middle of a fill takes the whole fill", async () => {
    const { series, logbook, fills } = await twoFills();
    const before = fills();
    const derived = await derive({ series, logbook, nowMs }, beginMs + 600_000, beginMs + 700_000);
    expect(derived?.fills).toEqual({ same: 1, revised: 0, added: 0, withdrawn: 0 });
    expect(fills()).toEqual(before);
  });

  it("a fill that still runs is the live path's: it is neither ended nor doubled, and ends live", async () => {
    const { series, logbook, node, driver, act, fills } = await twoFills();
    for (let at = 6600; at < 7000; at += 5) {
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
    const derived = await derive({ series, logbook, nowMs }, ...hours(0, 2));
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
    await derive({ series, logbook, nowMs }, ...hours(0, 2));
    const derived = fills();
    expect(derived.map(({ revision }) => revision)).toEqual([1, 1]);
    logbook.record(told);
    expect(fills()).toEqual(derived);
  });
});
