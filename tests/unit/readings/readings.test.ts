import { Composer, type PathEntry, type PathEvent, SavedRows } from "@drumlin/gateway/path";
import {
  createReadingsStage,
  NodePacks,
  type Reading,
  Readings,
  type ReadingsOutcome,
  type SavedNode,
} from "@drumlin/gateway/readings";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const site = "saltmarsh-house";
const beginMs = Date.UTC(2026, 5, 1);

function bench() {
  const readings = new Readings();
  readings.useSite(site);
  let seq = 0;
  const out: ReadingsOutcome[] = [];
  return {
    readings,
    out,
    send(records: unknown, receivedAt: number, topic = `drumlin/1/${site}/press/readings`) {
      seq += 1;
      const payload = new TextEncoder().encode(
        typeof records === "string" ? records : JSON.stringify(records),
      );
      readings.push({ kind: "message", seq, receivedAt, topic, payload }, receivedAt, (outcome) =>
        out.push(outcome),
      );
    },
    values: () => out.filter((outcome): outcome is Reading => outcome.kind === "reading"),
    codes: () => out.flatMap((outcome) => (outcome.kind === "rejection" ? [outcome.code] : [])),
  };
}

describe("node time", () => {
  it("a node away for six hours, back with 4,000 packs: times right within 20 s", () => {
    const { send, values } = bench();
    const bootMs = beginMs - 3_600_000;
    const drift = 80e-6;
    const upAt = (ms: number) => ((ms - bootMs) * (1 + drift)) / 1000;
    const pack = (seq: number, madeMs: number) => [
      { boot: 7, seq, up: upAt(madeMs), n: "ec-1", u: "S/m", v: madeMs / 1e15 },
    ];
    let seq = 0;
    for (let at = beginMs; at < beginMs + 3_600_000; at += 5400) send(pack(seq++, at), at + 30);
    const awayFrom = beginMs + 3_600_000;
    const backAt = awayFrom + 6 * 3_600_000;
    const before = values().length;
    for (let place = 0; place < 4000; place += 1)
      send(pack(seq++, awayFrom + place * 5400), backAt + place * 2);
    const held = values().slice(before);
    expect(held).toHaveLength(4000);
    for (const { value, tMs } of held) expect(Math.abs(tMs - value * 1e15)).toBeLessThan(20_000);
  });

  it("a node that starts while the network is away gets right times too, once its backlog is in", () => {
    const { send, values } = bench();
    const bootMs = beginMs;
    const backAt = beginMs + 6 * 3_600_000;
    for (let place = 0; place < 1000; place += 1) {
      const made = bootMs + 20_000 + place * 21_600;
      send(
        [{ boot: 9, seq: place, up: (made - bootMs) / 1000, n: "ec-1", u: "S/m", v: made / 1e15 }],
        Math.max(made, backAt + place * 2) + 20,
      );
    }
    for (let place = 1000; place < 1006; place += 1) {
      const made = backAt + 60_000 + place * 1000;
      send(
        [{ boot: 9, seq: place, up: (made - bootMs) / 1000, n: "ec-1", u: "S/m", v: made / 1e15 }],
        made + 20,
      );
    }
    expect(values()).toHaveLength(1006);
    for (const { value, tMs } of values()) expect(Math.abs(tMs - value * 1e15)).toBeLessThan(20_000);
  });

  it("without labels the time of arrival stands, not evaluated", () => {
    const { send, values } = bench();
    send([{ n: "ec-1", u: "S/m", v: 0.04 }], beginMs);
    expect(values()).toMatchObject([{ tMs: beginMs, flag: 2 }]);
  });

  it("what a node says in its first ten seconds is marked", () => {
    const { send, values } = bench();
    for (let seq = 0; seq < 8; seq += 1)
      send([{ boot: 1, seq, up: 2 + seq * 2, n: "float-1", vb: true }], beginMs + seq * 2000);
    expect(values().map(({ flag }) => flag)).toEqual([3, 3, 3, 3, 1, 1, 1, 1]);
  });
});

describe("an up that begins anew within a boot", () => {
  const near = (value: number, tMs: number) => expect(Math.abs(tMs - value * 1e15)).toBeLessThan(20_000);
  it("a 32-bit count of milliseconds wraps after 49.7 days: times stay right", () => {
    const { send, values } = bench();
    const wrapS = 2 ** 32 / 1000;
    for (let seq = 0; seq < 200; seq += 1) {
      const madeMs = beginMs + seq * 5000;
      const up = (wrapS - 500 + seq * 5) % wrapS;
      send(
        [{ boot: 1, seq, up: Math.round(up * 10) / 10, n: "ec-1", u: "S/m", v: madeMs / 1e15 }],
        madeMs + 40,
      );
    }
    expect(values()).toHaveLength(200);
    for (const { value, tMs } of values()) near(value, tMs);
  });
  it("a node that starts again with the same boot number: times stay right", () => {
    const { send, values } = bench();
    for (const start of [beginMs, beginMs + 86_400_000]) {
      for (let seq = 0; seq < 100; seq += 1) {
        const madeMs = start + 20_000 + seq * 5000;
        send([{ boot: 1, seq, up: 20 + seq * 5, n: "ec-1", u: "S/m", v: madeMs / 1e15 }], madeMs + 40);
      }
    }
    expect(values()).toHaveLength(200);
    for (const { value, tMs } of values()) near(value, tMs);
  });
  it("old packs that come late do not move the clock", () => {
    const { send, values } = bench();
    const pack = (seq: number, receivedAt: number) =>
      send(
        [{ boot: 1, seq, up: 100 + seq * 5, n: "ec-1", u: "S/m", v: (beginMs + seq * 5000) / 1e15 }],
        receivedAt,
      );
    for (let seq = 100; seq < 150; seq += 1) pack(seq, beginMs + seq * 5000 + 40);
    for (let seq = 0; seq < 100; seq += 1) pack(seq, beginMs + 150 * 5000 + seq * 10);
    for (let seq = 150; seq < 170; seq += 1) pack(seq, beginMs + seq * 5000 + 5040);
    for (const { value, tMs } of values()) near(value, tMs);
  });
});

describe("repeats and gaps", () => {
  it("the same pack again is counted and gives nothing", () => {
    const { send, values, out } = bench();
    const pack = (seq: number) => [{ boot: 1, seq, up: 100 + seq, n: "ec-1", u: "S/m", v: 0.04 }];
    for (const seq of [0, 1, 2, 3, 3, 2, 4, 7]) send(pack(seq), beginMs + seq * 1000);
    expect(values()).toHaveLength(6);
    const packs = out.filter((outcome) => outcome.kind === "pack");
    expect(packs.map(({ repeat }) => repeat)).toEqual([false, false, false, false, true, true, false, false]);
    expect(packs.at(-1)?.gap).toBe(2);
  });
  it("same numbers with other bytes are kept and counted", () => {
    const { send, values, out } = bench();
    for (const v of [1, 2, 3, 4])
      send([{ boot: 1, seq: v === 4 ? 3 : v, up: 100 + 2 * v, n: "ec-1", u: "S/m", v }], beginMs + v * 2000);
    expect(values()).toHaveLength(4);
    expect(out.filter((outcome) => outcome.kind === "pack").map(({ bootReused }) => bootReused)).toEqual([
      false,
      false,
      false,
      true,
    ]);
  });
});

describe("what is refused, by name", () => {
  const s = beginMs / 1000;
  it.each([
    ["site-unknown", [{ n: "a", v: 1 }], "drumlin/1/elsewhere/press/readings"],
    ["topic-not-understood", [{ n: "a", v: 1 }], "drumlin/1/saltmarsh-house/gateway/readings"],
    ["label-boot", [{ boot: -1, seq: 1, n: "a", v: 1 }], undefined],
    ["label-seq", [{ boot: 1, seq: 1.5, n: "a", v: 1 }], undefined],
    ["label-up", [{ boot: 1, seq: 1, up: "x", n: "a", v: 1 }], undefined],
    ["time-too-old", [{ n: "a", t: s - 401 * 86_400, v: 1 }], undefined],
    ["time-too-far-ahead", [{ n: "a", t: s + 600, v: 1 }], undefined],
    ["value-is-text", [{ n: "a", vs: "on" }], undefined],
    ["value-is-data", [{ n: "a", vd: "aGkgCg" }], undefined],
    ["name-not-allowed", [{ n: "a/b", v: 1 }], undefined],
    ["pack-not-json", "nonsense", undefined],
    ["presence-not-understood", '{"state":"asleep"}', "drumlin/1/saltmarsh-house/press/presence"],
  ])("%s", (code, records, topic) => {
    const { send, codes } = bench();
    send(records, beginMs, topic);
    expect(codes()).toEqual([code]);
  });
});

describe("a state taken anywhere goes on as if nothing had happened", () => {
  const composer = () => new Composer({ stages: [createReadingsStage()], readLine: () => null });
  const nothing = { last: () => [], list: () => [] };
  const push = (path: Composer, seq: number, record: object, receivedAt: number) => {
    const out: PathEvent[] = [];
    const payload = new TextEncoder().encode(JSON.stringify([record]));
    const topic = `drumlin/1/${site}/press/readings`;
    path.push({ seq, receivedAt, kind: "message", topic, payload } as PathEntry, (event) => out.push(event));
    return out;
  };

  it("readings and repeats are the same, wherever it was cut", () => {
    const script = Array.from({ length: 40 }, (_, index) => ({
      boot: index < 20 ? 1 : 2,
      seq: index % 20,
      up: 5 + (index % 20) * 3,
      n: "ec-1",
      u: "S/m",
      v: index,
    }));
    const run = (cut: number) => {
      let path = composer();
      const out: PathEvent[] = [];
      for (const [index, record] of script.entries()) {
        if (index === cut) {
          const saved = new SavedRows();
          saved.apply(structuredClone(path.changes()));
          path = composer();
          path.restore(saved, nothing);
        }
        out.push(...push(path, index + 1, record, beginMs + index * 3000));
      }
      return out;
    };
    const whole = run(-1);
    for (const cut of [1, 2, 3, 10, 20, 21, 23, 39]) expect(run(cut)).toEqual(whole);
  });

  it("remembered packs of many boots, brought forward by changed pages alone, tell every repeat", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 10 }), fc.oneof(fc.nat(20), fc.nat(1500))), {
          minLength: 1,
          maxLength: 300,
        }),
        fc.integer({ min: 1, max: 50 }),
        (packs, every) => {
          const live = composer();
          let restored = composer();
          const saved = new SavedRows();
          for (const [index, [boot, seq]] of packs.entries()) {
            const record = { boot, seq, n: "ec-1", u: "S/m", v: (boot * 2000 + seq) % 7 };
            const told = push(live, index + 1, record, beginMs + index * 1000);
            expect(push(restored, index + 1, record, beginMs + index * 1000)).toEqual(told);
            if (index % every !== 0) continue;
            saved.apply(structuredClone(live.changes()));
            restored = composer();
            restored.restore(structuredClone({ ...saved }), nothing);
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("what a node could fill the gateway with", () => {
  const pack = (first: number, count: number) =>
    Array.from({ length: count }, (_, index) => ({ n: `x-${first + index}`, v: 1 }));

  it("256 channel names, not one more; a name that is heard no longer gives its place up after a day", () => {
    const { send, values, codes } = bench();
    for (let round = 0; round < 50; round += 1) send(pack(round * 200, 200), beginMs + round * 1000);
    expect(new Set(values().map(({ channel }) => channel)).size).toBe(256);
    expect(codes()).toHaveLength(50 * 200 - 256);
    expect(new Set(codes())).toEqual(new Set(["channels-too-many"]));
    const twoDays = 2 * 86_400_000;
    send(pack(0, 100), beginMs + twoDays);
    const before = values().length;
    send(pack(20_000, 256), beginMs + twoDays + 1000);
    // Of the 256 names 100 were heard today and stay.
    expect(values().length - before).toBe(156);
    send(pack(0, 100), beginMs + twoDays + 2000);
    expect(values().length - before).toBe(256);
  });

  it("the names are remembered over a restart, and a state without them is gone on from", () => {
    const { send, readings } = bench();
    send(pack(0, 250), beginMs);
    const row = structuredClone(new Map(readings.dirty()).get("node press")) as SavedNode;
    const restoredWith = (saved: SavedNode) => {
      const again = bench();
      again.readings.restore("press", new NodePacks(saved));
      again.send(pack(1000, 20), beginMs + 1000);
      return again.codes().length;
    };
    expect(restoredWith(row)).toBe(14);
    const { names: _, ...older } = row;
    expect(restoredWith(older)).toBe(0);
  });

  it("a seq that leaps counts as a day of packs at most", () => {
    const { send, out } = bench();
    const gaps = () => out.flatMap((outcome) => (outcome.kind === "pack" ? [outcome.gap] : []));
    send([{ boot: 1, seq: 1, n: "ec-1", v: 1 }], beginMs);
    send([{ boot: 1, seq: 4_294_967_295, n: "ec-1", v: 1 }], beginMs + 1000);
    expect(gaps()).toEqual([0, 86_400]);
  });
});
