import { type Derived, derive } from "@drumlin/gateway/app";
import { waterCell } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import { beginMs, nowMs, running, twoFills, yaml } from "./derive-house.ts";

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
    expect(after.map(({ verdict }) => verdict)).toEqual(["unknown", "hold", "hold", "unknown"]);
    expect(after[1]).toMatchObject({ drum: "mix", reasons: [bad] });
    // Told again as the blend of what was watched is over the band, too.
    expect(after[2]).toMatchObject({
      drum: "mix",
      reasons: [bad, expect.stringMatching(/^the blend is 10\.3 /)],
    });
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
