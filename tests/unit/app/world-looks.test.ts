import { createDaysLeft, createRefusedShares } from "@drumlin/gateway/app";
import type { Board } from "@drumlin/gateway/path";
import { describe, expect, it } from "vitest";

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
