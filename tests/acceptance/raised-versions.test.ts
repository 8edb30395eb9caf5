import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unknownSubject } from "@drumlin/gateway/acts";
import { createCalendar, createStages, logbookRecords } from "@drumlin/gateway/app";
import { readLine } from "@drumlin/gateway/line";
import { isRecorded, openLogbook } from "@drumlin/gateway/logbook";
import { Composer, type PathEntry, SavedRows } from "@drumlin/gateway/path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { doneS, endS, morning, workS } from "./a-morning.ts";
import { goOn, seen } from "./after-a-morning.ts";
import { beginMs } from "./line-bench.ts";

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
        ["no-inflow:fresh", "suppressed-by-design"],
        ["removal-low:resin", "suppressed-by-design"],
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
    else expect(withoutDisagreement(after)).toEqual(withoutDisagreement(wanted));
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
