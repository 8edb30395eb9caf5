import { createDaysLeft, createRefusedShares } from "@drumlin/gateway/app";
import type { NewEntry } from "@drumlin/gateway/journal";
import type { Board } from "@drumlin/gateway/path";
import { worldKey } from "@drumlin/gateway/readings";
import { afterEach, describe, expect, it, vi } from "vitest";
import { worldPart } from "../../../gateway/src/app/parts/world-part.ts";

const hourMs = 3_600_000;
const minMs = 60_000;

describe("days left on the disk", () => {
  it("are told from 6 h on, by the rate of the last day", () => {
    const daysLeft = createDaysLeft();
    expect(daysLeft(0, 1000)).toBeNull();
    expect(daysLeft(5 * hourMs, 950)).toBeNull();
    // 60 in 6 h are 240 a day: 940 take 3.9 days.
    expect(daysLeft(6 * hourMs, 940)).toBe(3);
    // A day later only the last day counts: 10 in 24 h.
    expect(daysLeft(30 * hourMs, 930)).toBe(93);
  });
  it("are not told where it does not fill", () => {
    const daysLeft = createDaysLeft();
    daysLeft(0, 1000);
    expect(daysLeft(7 * hourMs, 1000)).toBeNull();
  });
});

describe("what is refused of a node", () => {
  it("is the share of the last 15 min; nothing is told of a node without refusals", () => {
    const node = { sent: { entries: 0 }, refused: { entries: 0 } };
    const told = new Set<string>();
    const board = { entries: () => new Map([["press", node]]).entries() } as unknown as Board;
    const shares = createRefusedShares(board, (name) => told.has(name));
    expect(shares(0, ["press", "never"])).toEqual([]);
    Object.assign(node, { sent: { entries: 10 }, refused: { entries: 1 } });
    expect(shares(minMs, ["press"])).toEqual([["press", 10]]);
    told.add("press");
    node.sent.entries = 100;
    expect(shares(15 * minMs, ["press"])).toEqual([["press", 1]]);
    // The refusal is older than 15 min.
    expect(shares(16 * minMs, ["press"])).toEqual([["press", 0]]);
    expect(shares(40 * minMs, ["press"])).toEqual([["press", null]]);
  });
});

describe("a disk", () => {
  afterEach(() => void vi.useRealTimers());

  type Said = readonly (readonly [s: number, value: unknown])[];
  /** What the gateway writes of its disk in 90 s, and when; its free share is `freeOf` the seconds so far. */
  async function written(freeOf: (s: number) => number): Promise<{ percent: Said; days: Said }> {
    vi.useFakeTimers();
    const beganMs = Date.now();
    const s = () => (Date.now() - beganMs) / 1000;
    const percent: [number, unknown][] = [];
    const days: [number, unknown][] = [];
    const append = async (entry: NewEntry) => {
      if (entry.kind === "world" && entry.fact === "free-percent") percent.push([s(), entry.value]);
      if (entry.kind === "world" && entry.fact === "days-left") days.push([s(), entry.value]);
      return 1;
    };
    const board = { entries: () => new Map().entries(), get: () => undefined };
    const part = worldPart({
      data: "",
      disk: async () => ({ freeBytes: 1000 * freeOf(s()), allBytes: 100_000 }),
      clock: { engineMs: Date.now },
      journal: { it: { append } },
      path: { it: { pipeline: { board, line: () => null } } },
      broker: { it: { isConnected: () => true, refuses: () => null } },
      health: () => [],
    } as never);
    await part.start();
    await vi.advanceTimersByTimeAsync(90_000);
    await part.stop(0);
    return { percent, days };
  }

  it("that fills within a minute is told of while a fifth of it is left, and again under 5 %", async () => {
    const { percent, days } = await written((s) => Math.max(0, 50 - (50 * s) / 60));
    // None of its days is left from a quarter on, at 30 s.
    const none = days.find(([, value]) => value === 0);
    expect(none?.[0]).toBeGreaterThanOrEqual(30);
    expect(none?.[0]).toBeLessThanOrEqual(33);
    const urgent = percent.find(([, value]) => (value as number) < 5);
    expect(urgent?.[0]).toBeGreaterThanOrEqual(54);
    expect(urgent?.[0]).toBeLessThanOrEqual(57);
    // Above that, no more than once in ten seconds.
    expect(percent.filter(([, value]) => (value as number) >= 5).length).toBeLessThanOrEqual(7);
  });

  it("on which a copy is laid at one blow, or that fills in ten minutes, is not told of as full", async () => {
    const blow = await written((s) => (s < 20 ? 50 : s < 24 ? 50 - 6.5 * (s - 20) : 24));
    expect(blow.days).toEqual([[0, null]]);
    const slow = await written((s) => 24 - (24 * s) / 600);
    expect(slow.days).toEqual([[0, null]]);
  });

  it("whose share goes to and fro about a whole number writes nothing more", async () => {
    const { percent } = await written((s) => (Math.floor(s / 2) % 2 === 0 ? 40.05 : 39.95));
    expect(percent).toEqual([[0, 40]]);
  });
});

describe("a broker of somebody else", () => {
  afterEach(() => void vi.useRealTimers());

  /** What the gateway writes of it in a minute, where an earlier run had said `before`. */
  async function written(before: Readonly<Record<string, unknown>>, now: object) {
    vi.useFakeTimers();
    const facts: (readonly [fact: string, value: unknown])[] = [];
    const append = async (entry: NewEntry) => {
      if (entry.kind === "world" && entry.part === "broker") facts.push([entry.fact, entry.value]);
      return 1;
    };
    const board = {
      entries: () => new Map().entries(),
      get: (_cell: unknown, key: string) => (key in before ? { value: before[key] } : undefined),
    };
    const part = worldPart({
      data: "",
      disk: async () => ({ freeBytes: 50, allBytes: 100 }),
      clock: { engineMs: Date.now },
      journal: { it: { append } },
      path: { it: { pipeline: { board, line: () => null } } },
      broker: { it: { isConnected: () => true, refuses: () => null, ...now } },
      health: () => [],
    } as never);
    await part.start();
    await vi.advanceTimersByTimeAsync(60_000);
    await part.stop(0);
    return facts;
  }

  it("that is there and refuses nothing is not spoken of", async () => {
    expect(await written({}, {})).toEqual([]);
  });

  it("that was away, or refused something, when the gateway stopped, and is right at the next start: that is over", async () => {
    const before = {
      [worldKey({ part: "broker", fact: "connected" })]: false,
      [worldKey({ part: "broker", fact: "refuses" })]: "words",
    };
    expect(await written(before, {})).toEqual([
      ["connected", true],
      ["refuses", null],
    ]);
  });

  it("what it refuses is said once; while it is away, nothing new of that", async () => {
    expect(await written({}, { refuses: () => "readings" })).toEqual([["refuses", "readings"]]);
    const refuses = worldKey({ part: "broker", fact: "refuses" });
    expect(await written({ [refuses]: "words" }, { isConnected: () => false })).toEqual([
      ["connected", false],
    ]);
  });
});
