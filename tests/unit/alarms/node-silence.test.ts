import { describe, expect, it } from "vitest";
import { silencesOf } from "../../../gateway/src/alarms/node-silence.ts";
import type { BoardView } from "../../../gateway/src/path/index.ts";
import type { NodeNow } from "../../../gateway/src/readings/index.ts";

/** A board on which some nodes were last heard at these times; null: known, and never heard. */
function boardOf(heard: Readonly<Record<string, number | null>>): BoardView {
  return {
    get: (_cell: unknown, id: string) =>
      heard[id] === undefined ? undefined : ({ lastSeenMs: heard[id], periodMs: 10_000 } as NodeNow),
    entries: () => [][Symbol.iterator](),
  } as unknown as BoardView;
}
const nodes = ["press", "drums", "shed"].map((id) => ({ id }));

describe("the silences of several nodes", () => {
  it("leave out a node that was never heard", () => {
    const heard = { press: 100_000, drums: null };
    expect(silencesOf(nodes, { board: boardOf(heard), nowMs: 100_000, startedMs: 0 })).toEqual({
      known: 1,
      missed: 0,
      isTogether: false,
      nextMs: 130_000,
    });
  });

  it("tell the next one that will be missed, three of its periods after it was heard", () => {
    const heard = { press: 105_000, drums: 100_000, shed: 103_000 };
    expect(silencesOf(nodes, { board: boardOf(heard), nowMs: 120_000, startedMs: 0 }).nextMs).toBe(130_000);
    expect(silencesOf(nodes, { board: boardOf(heard), nowMs: 134_000, startedMs: 0 })).toEqual({
      known: 3,
      missed: 2,
      isTogether: true,
      nextMs: 135_000,
    });
  });

  it("are together up to 30 s of one another, in whatever order the nodes stand", () => {
    const at = (shed: number) =>
      silencesOf(nodes, { board: boardOf({ press: 200_000, drums: 0, shed }), nowMs: 900_000, startedMs: 0 });
    expect(at(230_000)).toEqual({ known: 3, missed: 3, isTogether: true, nextMs: null });
    expect(at(230_001).isTogether).toBe(false);
  });

  it("begin with the gateway's start", () => {
    expect(
      silencesOf(nodes, { board: boardOf({ press: 0, drums: 0 }), nowMs: 100_000, startedMs: 80_000 }).nextMs,
    ).toBe(110_000);
  });
});
