import { Composer, type PathEntry, type PathEvent, SavedRows } from "@drumlin/gateway/path";
import { createReadingsStage, type Reading } from "@drumlin/gateway/readings";
import { describe, expect, it } from "vitest";

const site = "saltmarsh-house";
const beginMs = Date.UTC(2026, 5, 1);
const encoder = new TextEncoder();

interface Sent {
  /** When the node made it and when the gateway got it, ms after the begin. */
  readonly madeMs: number;
  readonly cameMs: number;
  readonly labels: Readonly<Record<string, number>>;
}

/** A path of the first stage alone; the value of each reading is its pack's index. */
function gateway(periodS: number | null, restartAt = -1, timeByWall = false) {
  const create = () => new Composer({ stages: [createReadingsStage()], readLine: () => null });
  let path = create();
  const saved = new SavedRows();
  const out: Reading[] = [];
  let seq = 0;
  const emit = (event: PathEvent) => {
    if (event.kind === "reading") out.push(event as unknown as Reading);
  };
  const push = (what: "readings" | "presence", value: unknown, atMs: number) => {
    seq += 1;
    const topic = `drumlin/1/${site}/press/${what}`;
    const payload = encoder.encode(JSON.stringify(value));
    const entry = { seq, receivedAt: beginMs + Math.round(atMs), kind: "message", topic, payload };
    path.push(entry as unknown as PathEntry, emit);
  };
  return {
    run(packs: readonly Sent[]): readonly Reading[] {
      if (periodS !== null)
        push("presence", { state: "online", boot: 7, protocol: 1, period_s: periodS }, packs[0]?.cameMs ?? 0);
      for (const [index, { cameMs, labels }] of packs.entries()) {
        if (index === restartAt) {
          saved.apply(structuredClone(path.changes()));
          path = create();
          path.restore(saved, { last: () => [], list: () => [] });
          seq += 1;
          const start = { seq, receivedAt: beginMs + Math.round(cameMs), kind: "start" };
          path.push({ ...start, version: "1", instance: "a", timeByWall } as unknown as PathEntry, emit);
        }
        push("readings", [{ ...labels, n: "ec-1", u: "S/m", v: index }], cameMs);
        if (index % 97 === 0) saved.apply(structuredClone(path.changes()));
      }
      path.pass(beginMs + (packs.at(-1)?.cameMs ?? 0) + 3_600_000, emit);
      return out;
    },
  };
}

/**
 * A node that kept `kept` packs while nobody listened, and then sends them, `gapMs` apart, and goes on live. Its true
 * times are the model's: nothing here looks at how the gateway thinks.
 */
function backlog(kept: number, periodS: number, gapMs: number, live: number, labelled: boolean): Sent[] {
  const packs: Sent[] = [];
  const connectMs = kept * periodS * 1000;
  for (let index = 0; index < kept + live; index += 1) {
    const madeMs = index * periodS * 1000;
    const cameMs = index < kept ? connectMs + index * gapMs : Math.max(madeMs + 20, connectMs + kept * gapMs);
    const up = { up: (madeMs + 3000) / 1000 };
    packs.push({ madeMs, cameMs, labels: { boot: 7, seq: index, ...(labelled ? up : {}) } });
  }
  return packs.sort((a, b) => a.cameMs - b.cameMs);
}

const errorsMs = (out: readonly Reading[], packs: readonly Sent[]) =>
  out.map(({ value, tMs }) => Math.abs(tMs - beginMs - (packs[value]?.madeMs ?? Number.NaN)));
const distinct = (out: readonly Reading[]) => new Set(out.map(({ tMs }) => tMs)).size;

describe("a new boot with a backlog", () => {
  // At 5973d35: 50 to 100 of 1,200 rows at periods up to 1 s; 12,500 packs at 5 s were wrong by 3.5 h in the middle.
  it.each([
    [1200, 0.5, 2, 1500],
    [1200, 1, 2, 1500],
    [1200, 5, 2, 1500],
    // After 30 s without a pack the clock is taken as it stands: the last of the backlog came 6 s late, and says so.
    [1200, 60, 5, 6001],
    [12_500, 5, 1, 1500],
  ])(
    "%i packs at %f s, %i ms apart: each keeps its own time, within %i ms",
    (kept, periodS, gapMs, withinMs) => {
      const packs = backlog(kept, periodS, gapMs, 40, true);
      const out = gateway(periodS).run(packs);
      expect(out).toHaveLength(packs.length);
      expect(distinct(out)).toBe(packs.length);
      expect(Math.max(...errorsMs(out, packs))).toBeLessThan(withinMs);
    },
  );

  it("goes on over a restart of the gateway in the middle of it", () => {
    const packs = backlog(600, 5, 2, 20, true);
    const out = gateway(5, 300).run(packs);
    expect(out).toHaveLength(packs.length);
    expect(distinct(out)).toBe(packs.length);
    expect(Math.max(...errorsMs(out, packs))).toBeLessThan(1500);
  });

  it("without `up`: spaced by the period, flag 2, none lost; only the first is as late as it came", () => {
    const packs = backlog(1200, 1, 2, 40, false);
    const out = gateway(1).run(packs);
    expect(out).toHaveLength(packs.length);
    expect(distinct(out)).toBe(packs.length);
    expect(new Set(out.map(({ flag }) => flag))).toEqual(new Set([2]));
    const errors = out.flatMap((reading) => (reading.value === 0 ? [] : errorsMs([reading], packs)));
    expect(Math.max(...errors)).toBeLessThan(5000);
  });

  it("without `up` and without a period: in one millisecond, each gets its own", () => {
    const packs = backlog(1200, 1, 0, 0, false);
    const out = gateway(null).run(packs);
    expect(distinct(out)).toBe(1200);
    expect(out.map(({ value }) => value)).toEqual(packs.map((_, index) => index));
  });

  it("of a boot before: what it had kept takes that boot's clock", () => {
    const first = Array.from({ length: 10 }, (_, index) => ({
      madeMs: index * 5000,
      cameMs: index * 5000 + 10,
      labels: { boot: 1, seq: index, up: 10 + index * 5 },
    }));
    const kept = Array.from({ length: 20 }, (_, index) => ({
      madeMs: 50_000 + index * 5000,
      cameMs: 400_000 + index,
      labels: { boot: 1, seq: 10 + index, up: 60 + index * 5 },
    }));
    const second = Array.from({ length: 10 }, (_, index) => ({
      madeMs: 300_000 + index * 5000,
      cameMs: 300_000 + index * 5000 + 10,
      labels: { boot: 2, seq: index, up: 10 + index * 5 },
    }));
    const packs = [...first, ...second, ...kept];
    const out = gateway(5).run(packs);
    expect(out).toHaveLength(40);
    expect(Math.max(...errorsMs(out, packs))).toBeLessThan(100);
  });
});

describe("a node that is live", () => {
  it("is heard after 4 packs and 5 s of its own time, whatever its jitter", () => {
    for (const periodS of [0.5, 1, 2, 5]) {
      const packs = Array.from({ length: 40 }, (_, index) => {
        const madeMs = index * periodS * 1000;
        const jitterMs = (index * 7919) % 400;
        return {
          madeMs,
          cameMs: madeMs + jitterMs,
          labels: { boot: 7, seq: index, up: 20 + index * periodS },
        };
      });
      const out = gateway(periodS).run(packs);
      expect(Math.max(...errorsMs(out, packs))).toBeLessThan(401);
    }
  });
  it("without `up`, one pack a period, is heard at once", () => {
    const packs = Array.from({ length: 20 }, (_, index) => ({
      madeMs: index * 5000,
      cameMs: index * 5000 + 30,
      labels: {},
    }));
    const out = gateway(5).run(packs);
    expect(out.map(({ receivedAtMs, tMs }) => tMs - receivedAtMs)).toEqual(packs.map(() => 0));
  });
});

describe("a gateway whose machine started with its clock far ahead", () => {
  const yearMs = 365 * 86_400_000;
  /** A node that goes on all the while; from pack 40 on the gateway's time is `leapMs` ahead. */
  const packs = (leapMs: number, periodS = 5) =>
    Array.from({ length: 80 }, (_, index) => {
      const trueMs = index * periodS * 1000 + (index < 40 ? 0 : 60_000);
      const atMs = trueMs + (index < 40 ? 0 : leapMs);
      return { madeMs: atMs, cameMs: atMs + 30, labels: { boot: 7, seq: index, up: 20 + trueMs / 1000 } };
    });

  it.each([3_600_000, 30 * 86_400_000, yearMs])(
    "by %i ms: a node that went on is late for its first packs only, not for ever",
    (leapMs) => {
      const sent = packs(leapMs);
      const out = gateway(5, 40, true).run(sent);
      expect(out).toHaveLength(80);
      const errors = errorsMs(out, sent);
      expect(Math.max(...errors.slice(0, 40))).toBeLessThan(1000);
      // Four packs and 5 s of the node's time tell that nothing of it was late.
      expect(Math.max(...errors.slice(45))).toBeLessThan(1000);
    },
  );

  it("a right clock, and a node that kept its packs meanwhile: they keep their times", () => {
    // Twelve hours away; the node sends what it kept ten times as fast as it was made, then goes on.
    const awayMs = 12 * 3_600_000;
    const sent = Array.from({ length: 9000 }, (_, index) => {
      const madeMs = index * 5000;
      const cameMs = index < 40 ? madeMs + 30 : Math.max(madeMs + 30, 200_000 + awayMs + (index - 40) * 500);
      return { madeMs, cameMs, labels: { boot: 7, seq: index, up: 20 + madeMs / 1000 } };
    });
    const out = gateway(5, 40, true).run(sent);
    expect(out).toHaveLength(9000);
    expect(Math.max(...errorsMs(out, sent))).toBeLessThan(20_000);
  });

  it("on the same run of the machine its time is sure: a node that is late all the while stays so", () => {
    const sent = packs(0).map((pack, index) =>
      index < 40 ? pack : { ...pack, cameMs: pack.cameMs + 3_600_000 },
    );
    const out = gateway(5, 40, false).run(sent);
    expect(Math.max(...errorsMs(out, sent))).toBeLessThan(2000);
  });
});
