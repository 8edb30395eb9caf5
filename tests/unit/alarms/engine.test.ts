import { createAlarms } from "@drumlin/gateway/alarms";
import { worldCell } from "@drumlin/gateway/readings";
import { describe, expect, it } from "vitest";
import { otherCell, rowOf, worldBench } from "./world-bench.ts";

const without = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
drums: { fresh: { volume: 200 L, fed_by: supply } }
`;
const withMix = without.replace("drums: {", "drums: { mix: { volume: 200 L, fed_by: supply },");

describe("delays", () => {
  it("readings and judged time are asked for together", () => {
    const bench = worldBench([rowOf("a", { on: () => ({ readings: 3, judgedMs: 20_000 }) })]);
    for (const at of [1, 2, 3, 4]) bench.says("a", "mix", 11 + at, at);
    expect(bench.story()).toEqual([]);
    bench.says("a", "mix", 11, 20);
    expect(bench.story()).toEqual([]);
    // 20 s lie between the first bad reading and this one.
    bench.says("a", "mix", 12, 21);
    expect(bench.story()).toEqual(["21 a:mix raised unacknowledged!"]);
  });
  it("of several, one is enough; the clock alone can end a delay", () => {
    const bench = worldBench([rowOf("a", { on: () => [{ readings: 2 }, { elapsedMs: 5000 }] })]);
    bench.says("a", "mix", 11, 1);
    bench.tick(5);
    expect(bench.story()).toEqual([]);
    bench.tick(10);
    bench.says("a", "fresh", 11, 11);
    bench.says("a", "fresh", 12, 12);
    expect(bench.story()).toEqual(["6 a:mix raised unacknowledged!", "12 a:fresh raised unacknowledged!"]);
  });
  it("unknown holds them: neither raised nor cleared, no time counted over it", () => {
    const bench = worldBench([
      rowOf("a", { on: () => ({ elapsedMs: 10_000 }), off: () => ({ elapsedMs: 10_000 }) }),
    ]);
    bench.says("a", "mix", 11, 0);
    bench.says("a", "mix", "?", 6);
    bench.says("a", "mix", 12, 1000);
    bench.tick(1003);
    expect(bench.story()).toEqual([]);
    bench.tick(1004);
    expect(bench.story()).toEqual(["1004 a:mix raised unacknowledged!"]);
    bench.says("a", "mix", 1, 1010);
    bench.says("a", "mix", "?", 1019);
    bench.tick(5000);
    expect(bench.standing()[0]).toMatchObject({
      active: true,
      judged: { now: false, because: "no-valid-reading", sinceMs: 1_019_000 },
    });
    bench.says("a", "mix", 1, 5000);
    bench.tick(5001);
    expect(bench.standing()[0]?.state).toBe("returned-unacknowledged");
  });
  it("a gate holds them as well, and says why", () => {
    let isShut = false;
    const bench = worldBench([
      rowOf("a", { on: () => ({ readings: 2 }), gate: () => (isShut ? "no-flow" : null) }),
    ]);
    bench.says("a", "mix", 11, 1);
    isShut = true;
    bench.says("a", "mix", 12, 2);
    isShut = false;
    expect(bench.story()).toEqual([]);
    bench.says("a", "mix", 13, 3);
    expect(bench.story()).toHaveLength(1);
  });
  it("litres and fills", () => {
    const count = (kind: "litres" | "fill") =>
      rowOf("a", {
        on: () => (kind === "litres" ? { litres: 5 } : { fills: 2 }),
        judge({ board, subject }) {
          const value = board.get(worldCell, `a/${subject.id}`)?.value;
          if (typeof value !== "number") return { is: "unknown", value: null };
          return { is: true, value, ...(kind === "litres" ? { litres: value } : { fill: String(value) }) };
        },
      });
    const litres = worldBench([count("litres")]);
    // Counted from the first: 3 L, then a count that begins anew with 1 L, then 1 L more.
    for (const [at, value] of [100, 103, 1, 2].entries()) litres.says("a", "mix", value, at + 1);
    expect(litres.story()).toEqual(["4 a:mix raised unacknowledged!"]);
    const fills = worldBench([count("fill")]);
    for (const [at, value] of [1, 1, 2].entries()) fills.says("a", "mix", value, at + 1);
    expect(fills.story()).toEqual(["3 a:mix raised unacknowledged!"]);
  });
  it("a restart in a delay goes on with it", () => {
    const bench = worldBench([rowOf("a", { on: () => ({ elapsedMs: 10_000 }) })]);
    bench.says("a", "mix", 11, 1);
    bench.restart(5);
    bench.tick(10);
    expect(bench.story()).toEqual([]);
    bench.tick(11);
    expect(bench.story()).toEqual(["11 a:mix raised unacknowledged!"]);
  });
  it("is over only by its deadband", () => {
    const bench = worldBench([rowOf("a", { deadband: () => 2 })]);
    for (const [at, value] of [
      [1, 11],
      [2, 9],
      [3, 8],
      [4, 7.9],
    ] as const)
      bench.says("a", "mix", value, at);
    expect(bench.story()).toEqual([
      "1 a:mix raised unacknowledged!",
      "4 a:mix returned returned-unacknowledged",
    ]);
  });
});

describe("attention", () => {
  const rising = rowOf("a", {
    attention: ({ board, subject }) =>
      Number(board.get(worldCell, `a/${subject.id}`)?.value) > 20 ? "wake" : "today",
  });
  it("rises while it stands: one that calls now is new, and does not fall again", () => {
    const bench = worldBench([rising]);
    bench.says("a", "mix", 11, 1);
    const occurrence = bench.standing()[0]?.occurrence;
    expect(bench.act({ type: "acknowledge", key: "a:mix", occurrence }, 2)).toBeNull();
    bench.says("a", "mix", 21, 3);
    bench.says("a", "mix", 11, 4);
    expect(bench.story()).toEqual([
      "1 a:mix raised unacknowledged",
      "2 a:mix acknowledged acknowledged",
      "3 a:mix attention-raised unacknowledged!",
    ]);
    expect(bench.standing()[0]).toMatchObject({ attention: "wake", occurrence });
  });
});

describe("what was marked as seen", () => {
  it("can be taken back for 10 min: then it is new and calls; later, or where nobody has seen it, it is refused", () => {
    const bench = worldBench([rowOf("a", {})]);
    bench.says("a", "mix", 11, 1);
    const occurrence = bench.standing()[0]?.occurrence;
    const act = (type: "acknowledge" | "unacknowledge", at: number) =>
      bench.act({ type, key: "a:mix", occurrence }, at);
    expect(act("unacknowledge", 2)).toBe("not-possible-in-state");
    expect(act("acknowledge", 3)).toBeNull();
    expect(act("unacknowledge", 603)).toBeNull();
    expect(bench.standing()[0]).toMatchObject({ acknowledgedAtMs: null, acknowledgedBy: null, occurrence });
    expect(act("acknowledge", 700)).toBeNull();
    expect(act("unacknowledge", 1301)).toBe("not-possible-in-state");
    expect(bench.story()).toEqual([
      "1 a:mix raised unacknowledged!",
      "3 a:mix acknowledged acknowledged",
      "603 a:mix seen-undone unacknowledged!",
      "700 a:mix acknowledged acknowledged",
    ]);
  });
});

describe("what brings what about", () => {
  const causing = (isOneRing: boolean) =>
    rowOf("a", { causes: [{ condition: "b", isOneRing, subjects: (_line, { name }) => [name] }] });
  const rows = [rowOf("b"), causing(false)];
  it("a consequence does not call while its first-out stands unseen, and is listed under it", () => {
    const bench = worldBench(rows);
    bench.says("a", "mix", 11, 1);
    bench.says("b", "mix", 11, 2);
    bench.says("b", "fresh", 11, 3);
    expect(bench.story()).toEqual([
      "1 a:mix raised unacknowledged!",
      "2 b:mix raised unacknowledged",
      "3 b:fresh raised unacknowledged!",
    ]);
    expect(bench.standing().map(({ key, under }) => [key, under])).toEqual([
      ["a:mix", null],
      ["b:mix", "a:mix"],
      ["b:fresh", null],
    ]);
  });
  it("one that is more urgent than its first-out calls, and stands for itself", () => {
    const bench = worldBench([rowOf("b", { attention: () => "wake" }), causing(false)]);
    bench.says("a", "mix", 11, 1);
    bench.says("b", "mix", 11, 2);
    expect(bench.story()).toEqual(["1 a:mix raised unacknowledged!", "2 b:mix raised unacknowledged!"]);
    expect(bench.standing().map(({ under }) => under)).toEqual([null, null]);
  });
  it("where one ring is for both, what comes second does not call, whichever it is", () => {
    const second = (isOneRing: boolean) => {
      const bench = worldBench([rowOf("b"), causing(isOneRing)]);
      bench.says("b", "mix", 11, 1);
      bench.says("a", "mix", 11, 2);
      return bench.story()[1];
    };
    expect(second(true)).toBe("2 a:mix raised unacknowledged");
    expect(second(false)).toBe("2 a:mix raised unacknowledged!");
  });
  it("a circle of rows that wait for each other is a fault of the program", () => {
    expect(() => createAlarms([rowOf("a", { after: ["b"] }), rowOf("b", { after: ["a"] })])).toThrow(
      /wait for each other/,
    );
    expect(() => createAlarms([rowOf("a", { after: ["c"] })])).toThrow(/no condition/);
  });
});

describe("borders", () => {
  it("a condition that looks at a cell or a state without saying so throws", () => {
    const looks = rowOf("a", {
      judge: ({ board }) => ({ is: board.get(otherCell, "x") === 1, value: null }),
    });
    expect(() => worldBench([looks])).toThrow(/does not say so in "reads"/);
    const asks = rowOf("a", { judge: ({ other }) => ({ is: other("b", "mix") !== null, value: null }) });
    expect(() => worldBench([rowOf("b"), asks])).toThrow(/does not say so in "after"/);
    expect(() => worldBench([rowOf("b"), { ...asks, after: ["b"] }])).not.toThrow();
  });
});

describe("ids", () => {
  it("are made of entry, alarm and count, and what another row does does not shift them", () => {
    const alone = worldBench([rowOf("b")]);
    const beside = worldBench([rowOf("a"), rowOf("b")]);
    for (const bench of [alone, beside]) {
      bench.says("a", "mix", 11, 1);
      bench.says("b", "mix", 11, 2);
      bench.says("b", "mix", 1, 3);
    }
    const ids = alone.changes.map(({ id }) => id);
    expect(ids).toEqual(["4/b:mix/1", "5/b:mix/1"]);
    expect(beside.changes.filter(({ alarm }) => alarm.condition === "b").map(({ id }) => id)).toEqual(ids);
  });
});

describe("another line", () => {
  it("takes back what it does not have; the same line again judges anew, and the fact is told", () => {
    const bench = worldBench([rowOf("a", { isLatching: true })]);
    bench.says("a", "mix", 11, 1);
    bench.line(without, 2);
    expect(bench.standing()).toEqual([]);
    bench.line(withMix, 3);
    expect(bench.story()).toEqual([
      "1 a:mix raised unacknowledged!",
      "2 a:mix withdrawn normal",
      "3 a:mix raised unacknowledged!",
    ]);
  });
});

describe("what a person did survives a raised version", () => {
  const rows = [rowOf("a", { isLatching: true })];
  function lived() {
    const bench = worldBench(rows);
    bench.says("a", "mix", 11, 1);
    bench.says("a", "mix", 1, 2);
    bench.says("a", "fresh", 11, 3);
    const of = (key: string) => bench.standing().find((alarm) => alarm.key === key)?.occurrence;
    bench.act({ type: "acknowledge", key: "a:mix", occurrence: of("a:mix") }, 4);
    bench.act({ type: "shelve", key: "a:fresh", occurrence: of("a:fresh"), untilMs: 900_000 }, 5);
    return bench;
  }
  const wanted = [
    ["a:mix", "latched-acknowledged"],
    ["a:fresh", "shelved"],
  ];
  it("from its own rows, and from the logbook where rows can't be read", () => {
    for (const version of [null, 99]) {
      const bench = lived();
      const before = bench.standing();
      const last = new Map(bench.changes.map((change) => [change.alarm.key, change]));
      bench.restart(6, version, {
        last: (kind) => (kind === "alarm" ? [...last.values()] : []),
        list: () => [],
      });
      expect(bench.standing().map(({ key, state }) => [key, state])).toEqual(wanted);
      expect(bench.standing().map(({ occurrence }) => occurrence)).toEqual(
        before.map(({ occurrence }) => occurrence),
      );
      bench.tick(901);
      expect(bench.story().at(-1)).toBe("900 a:fresh shelf-ended unacknowledged!");
    }
  });
  it("so does when somebody's switching off ends", () => {
    for (const version of [null, 99]) {
      const bench = worldBench(rows);
      bench.says("a", "fresh", 11, 1);
      const [occurrence] = bench.standing().map((alarm) => alarm.occurrence);
      bench.act({ type: "out-of-service", key: "a:fresh", occurrence, untilMs: 900_000 }, 2);
      const last = bench.changes.slice(-1);
      bench.restart(6, version, { last: (kind) => (kind === "alarm" ? last : []), list: () => [] });
      expect(bench.standing().map(({ state }) => state)).toEqual(["out-of-service"]);
      bench.tick(901);
      expect(bench.story().at(-1)).toMatch(/^900 a:fresh \S+ unacknowledged!$/);
    }
  });
});
