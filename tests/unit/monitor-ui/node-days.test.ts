import { describe, expect, it } from "vitest";
import { type GapRecord, silencesOf, spanOfDay } from "../../../monitor-ui/src/data/node-days.ts";

const hourMs = 3_600_000;
const nowMs = Date.UTC(2026, 10, 25, 12);
const ago = (hours: number) => nowMs - hours * hourMs;
const gap = (subject: string, fromH: number, toH: number | null): GapRecord => ({
  of: subject === "gateway" ? "gateway" : "channel",
  subject,
  fromMs: ago(fromH),
  toMs: toH === null ? null : ago(toH),
});

describe("a node's last day", () => {
  it("joins what touches, keeps to the day, goes on to now; another node's gaps are not its own", () => {
    const gaps = [
      gap("press/ec-1", 30, 23),
      gap("press/ec-2", 10, 9),
      gap("press/t-1", 9.5, 8),
      gap("pressure/ec-1", 7, 6),
      gap("press/ec-1", 1, null),
    ];
    expect(silencesOf({ gaps }, "press", nowMs)).toEqual([
      { fromMs: ago(24), toMs: ago(23), channels: ["ec-1"] },
      { fromMs: ago(10), toMs: ago(8), channels: ["ec-2", "t-1"] },
      { fromMs: ago(1), toMs: nowMs, channels: ["ec-1"] },
    ]);
  });

  it("a gateway that was off heard no node", () => {
    const gaps = [gap("gateway", 5, 4)];
    expect(silencesOf({ gaps }, "press", nowMs)).toEqual([{ fromMs: ago(5), toMs: ago(4), channels: [] }]);
  });

  it("before a node was first heard of, nothing is claimed", () => {
    const records = { gaps: [], firstMs: new Map([["press", ago(6)]]) };
    expect(spanOfDay(records, "press", nowMs)).toEqual({ fromMs: ago(24), knownMs: ago(6) });
    expect(spanOfDay(records, "drums", nowMs).knownMs).toBe(ago(24));
  });
});
