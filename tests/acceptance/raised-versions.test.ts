import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unknownSubject } from "@drumlin/gateway/acts";
import { alarmCell, workCell } from "@drumlin/gateway/alarms";
import { createCalendar, createStages, logbookRecords, type Outcome } from "@drumlin/gateway/app";
import { fillCell, floatCell, learnedCell, waterCell } from "@drumlin/gateway/fills";
import { readLine } from "@drumlin/gateway/line";
import { isRecorded, openLogbook } from "@drumlin/gateway/logbook";
import { proofCell } from "@drumlin/gateway/measurements";
import { Composer, type PathEntry, SavedRows } from "@drumlin/gateway/path";
import { nodeCell } from "@drumlin/gateway/readings";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createHouse } from "./drum-house.ts";
import { beginMs, createLineBench } from "./line-bench.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2, temperature: press/t-2 }
stages:
  resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L, flow: press/flow-1 }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: drums/stop, level: { channel: drums/level, as: volume } }
  fresh: { volume: 100 L, fed_by: supply, control: manual, stop: shelf/stop }
floors: { under-drums: shelf/floor }
buttons: { by-fresh: { channel: shelf/button, work: { drum: fresh, minutes: 120 } } }
`;
const leakS = [2170, 2360] as const;
const badFromS = 2900;
const doneS = 3100;
const workS = 6000;
const endS = 3400;

/** A morning in which a person does a bit of everything; what came of it stands in a logbook. */
function morning() {
  const bench = createLineBench(yaml);
  const house = createHouse(
    { meter: true, level: true },
    {
      pressS: 5,
      drumsS: 5,
      flow: 10,
      draw: 5,
      leak: (atS) => (atS >= leakS[0] && atS < leakS[1] ? 8 : 0),
      kappa: (atS) => (atS < badFromS ? 0.5 : 8),
    },
    bench,
  );
  const shelf = (wet: boolean, floor: boolean, isPressed = false) => {
    house.live(house.nowS() + 5);
    bench.node(
      "shelf",
      [
        { n: "stop", vb: wet },
        { n: "floor", vb: floor },
        { n: "button", vb: isPressed },
      ],
      house.nowS(),
    );
  };
  const act = (given: object) => expect(bench.act(given, house.nowS()), JSON.stringify(given)).toBeNull();
  const onAlarm = (key: string, given: object) =>
    act({ key, occurrence: bench.standing().find((alarm) => alarm.key === key)?.occurrence, ...given });
  const until = (atS: number) => {
    while (house.nowS() < atS) shelf(false, false);
  };
  bench.presence(
    "press",
    {
      state: "online",
      boot: 7,
      firmware: "a",
      protocol: 1,
      period_s: 5,
      channels: [{ name: "ec-1", unit: "S/m", at25: true }],
    },
    0,
  );
  act({ type: "calibration", channel: "press/ec-2", points: [{ read: 0.8, true: 1.6 }] });
  // Five good fills, then water that comes in past a wet float: somebody moved it.
  until(2570);
  onAlarm("drum-not-stopping:mix", { type: "reset", float: "moved" });
  // A guided test of the other drum's float.
  act({ type: "proof-start", float: "fresh.stop", method: "lifted" });
  for (const wet of [true, true, false, false]) shelf(wet, false);
  // A puddle, seen, dry again, not reset.
  for (const floor of [true, true]) shelf(false, floor);
  onAlarm("floor-wet:under-drums", { type: "acknowledge" });
  act({ type: "release", drum: "fresh", reason: "dumped", note: "algae" });
  until(doneS);
  onAlarm("resin-breakthrough:after-resin", { type: "shelve", untilMs: beginMs + 7_000_000 });
  act({ type: "work-on", subject: { kind: "stage", id: "resin" }, untilMs: beginMs + workS * 1000 });
  act({ type: "fill-started", drum: "fresh" });
  // Somebody presses the button at the other drum.
  shelf(false, false, true);
  until(endS);
  return bench;
}

const folder = mkdtempSync(join(tmpdir(), "drumlin-raised-"));
let bench: ReturnType<typeof morning>;
let logbook: ReturnType<typeof openLogbook>;
let saved: ReturnType<typeof bench.saved>;
let before: ReturnType<typeof seen>;
let wanted: ReturnType<typeof goOn>;
beforeAll(() => {
  bench = morning();
  logbook = openLogbook({ folder });
  for (const outcome of bench.outcomes) if (isRecorded(outcome)) logbook.record([outcome]);
  saved = bench.saved();
  before = seen(readable());
  wanted = goOn(readable());
});
afterAll(() => {
  logbook.close();
  rmSync(folder, { recursive: true, force: true });
});

/** The path begun again; the stage `raised` can't read its rows. `kept` null: there is no checkpoint. */
function begin(raised: string | null, kept: typeof saved | null) {
  const stages = createStages().map((stage) =>
    stage.name === raised ? { ...stage, version: stage.version + 1, load: () => false } : stage,
  );
  const composer = new Composer({
    stages,
    readLine(text) {
      const read = readLine(text);
      return read.ok ? read.line : null;
    },
    unknownSubject,
  });
  const rows = new SavedRows();
  if (kept)
    rows.apply({
      seq: kept.seq,
      versions: Object.fromEntries(kept.versions),
      rows: kept.rows.map(([stage, key, plain]) => ({ stage, key, plain })),
    });
  const seeded = composer.restore(kept && rows, logbookRecords(logbook, createCalendar()));
  return { composer, seeded };
}

/** What a person did or must see. */
function seen({ board }: Composer) {
  const alarms = [...board.entries(alarmCell)].map(([key, alarm]) => [
    key,
    alarm.state,
    alarm.occurrence,
    alarm.acknowledgedBy,
    alarm.shelvedUntilMs,
  ]);
  const fresh = board.get(waterCell, "fresh");
  const mix = board.get(waterCell, "mix");
  const press = board.get(nodeCell, "press");
  return {
    alarms: alarms.sort(),
    hold: [mix?.verdict, mix?.reasons],
    released: [fresh?.verdict, fresh?.release],
    trips: board.get(learnedCell, "mix")?.tripsL,
    filling: board.get(fillCell, "fresh")?.id,
    proved: [
      board.get(proofCell, "fresh.stop")?.last?.result,
      board.get(floatCell, "fresh.stop")?.provedAtMs,
    ],
    work: [...board.entries(workCell)].sort(([a], [b]) => (a < b ? -1 : 1)),
    node: [press?.online, press?.firmware, press?.periodMs, press?.channels.length],
  };
}

/** The path goes on: what the same packs mean, and what a person can still do. */
function goOn(composer: Composer) {
  const out: Outcome[] = [];
  let seq = 1_000_000;
  const push = (entry: object, atS: number) => {
    seq += 1;
    composer.push({ seq, receivedAt: beginMs + atS * 1000, ...entry } as PathEntry, (told) =>
      out.push(told as Outcome),
    );
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
  push({ kind: "start" }, endS + 10);
  for (let atS = endS + 15; atS < endS + 60; atS += 5) {
    node(
      "press",
      [
        { n: "t-1", u: "Cel", v: 18 },
        { n: "t-2", u: "Cel", v: 25 },
        { n: "ec-1", u: "S/m", v: 0.04 },
        { n: "ec-2", u: "S/m", v: 0.0008 },
        { n: "flow-1", u: "m3/s", v: 0 },
      ],
      atS,
    );
    node(
      "drums",
      [
        { n: "stop", vb: true },
        { n: "level", u: "m3", v: 0.18 },
      ],
      atS,
    );
    node(
      "shelf",
      [
        { n: "stop", vb: false },
        { n: "floor", vb: false },
      ],
      atS,
    );
  }
  const kappaOf = (point: string) =>
    out.findLast(
      (told) =>
        told.kind === "measurement" && told.quantity === "conductivity25" && told.subject.id === point,
    );
  push({ kind: "act", act: { id: "stop", by: "keeper", type: "fill-stopped", drum: "fresh" } }, endS + 61);
  const done = out.findLast((told) => told.kind === "act-done");
  return {
    ...seen(composer),
    kappa: [kappaOf("supply"), kappaOf("after-resin")].map(
      (told) => told?.kind === "measurement" && told.value,
    ),
    stopped: done?.kind === "act-done" && done.refused,
    filled: out
      .filter((told) => told.kind === "fill" && told.drum === "fresh")
      .map((told) => told.kind === "fill" && [told.id, told.end]),
  };
}

/** That two witnesses don't agree is no record: it is over until the next fill in which they don't, and listed until seen. */
function withoutDisagreement({ alarms, ...rest }: ReturnType<typeof seen>) {
  return { ...rest, alarms: alarms.filter(([key]) => key !== "flow-disagrees:mix") };
}
/** The same but for that, and for how often a running fill was told. */
function expectAsGood(after: typeof wanted): void {
  const good = ({ filled, ...rest }: typeof wanted) => ({
    ...rest,
    ...withoutDisagreement(rest),
    filled: filled.at(-1),
  });
  expect(good(after)).toEqual(good(wanted));
}
const readable = () => begin(null, saved).composer;

describe("nothing that a person did or must see is lost", () => {
  it("where the rows can be read", () => {
    expect(before).toMatchObject({
      alarms: [
        ["back-flow:after-resin", "suppressed-by-design"],
        ["fill-long:fresh", "suppressed-by-design"],
        ["floor-wet:under-drums", "latched-acknowledged"],
        ["flow-disagrees:mix", "unacknowledged"],
        ["no-inflow:fresh", "suppressed-by-design"],
        ["resin-breakthrough:after-resin", "suppressed-by-design"],
        ["unplanned-inflow:fresh", "suppressed-by-design"],
        ["watch-lost:fresh", "suppressed-by-design"],
      ].map((known) => expect.arrayContaining(known)),
      hold: ["hold", ["water over the limit of 5 µS/cm came in (After resin)"]],
      released: ["unknown", { by: "keeper", how: "dumped", note: "algae" }],
      filling: `fresh@${beginMs + doneS * 1000}`,
      proved: ["passed", beginMs + 2_590_000],
      work: [
        ["drum/fresh", { by: "button by-fresh", isForgotten: false }],
        ["stage/resin", { by: "keeper", untilMs: beginMs + workS * 1000, isForgotten: false }],
      ],
      node: [true, "a", 5000, 1],
    });
    // The one where it trips since it was moved, and the next.
    expect(before.trips).toHaveLength(2);
    const after = wanted;
    // 400 uS/cm at 18 °C, said by the node to be at 25 °C; 8 uS/cm of a probe that reads half.
    expect(after.kappa).toEqual([400, 16]);
    expect(after.stopped).toBeNull();
    expect(after.filled.at(-1)).toEqual([before.filling, "stopped-by-person"]);
  });
  it.each(createStages().map(({ name }) => name))("where the version of %s was raised", (name) => {
    const { composer, seeded } = begin(name, saved);
    expect(seeded).toEqual([name]);
    expect(seen(composer)).toEqual(before);
    const after = goOn(composer);
    if (name === "fills") expectAsGood(after);
    else expect(after).toEqual(wanted);
  });
  it.each([
    ["all its files", 0],
    ["all but its last file", 500],
  ])("without a checkpoint, and with %s of the journal gone", (_what, lastS) => {
    const { composer } = begin(null, null);
    for (const entry of bench.entries)
      if (entry.receivedAt > beginMs + (endS - lastS) * 1000) composer.push(entry as PathEntry, () => {});
    expect(withoutDisagreement(seen(composer))).toEqual(withoutDisagreement(before));
    const after = goOn(composer);
    expectAsGood(after);
  });
});
