import type { DrumView, LineView, PointView, StageView } from "@drumlin/gateway/contract";
import { describe, expect, it } from "vitest";
import { type Column, isMirrored, pictureOf, runsAt, widths } from "../../../monitor-ui/src/line/picture.ts";

const point = (id: string, more: Partial<PointView> = {}) =>
  ({ id, title: id, hasProbe: false, limit: null, run: { flowing: null }, ...more }) as unknown as PointView;
const stage = (id: string, from: string, to: string) =>
  ({ id, title: id, kind: id, from, to, removal: null }) as StageView;
const drum = (id: string, fedBy: string, filling: boolean | null = false) =>
  ({ id, title: id, fedBy, filling }) as unknown as DrumView;

const house = {
  points: [
    point("supply", { hasProbe: true }),
    point("after-sediment"),
    point("after-carbon"),
    point("after-resin", { hasProbe: true, limit: 5 }),
  ],
  stages: [
    stage("sediment", "supply", "after-sediment"),
    stage("carbon", "after-sediment", "after-carbon"),
    stage("resin", "after-carbon", "after-resin"),
  ],
  drums: [drum("fresh", "after-carbon"), drum("mix", "after-resin", true)],
} as unknown as LineView;

const nameOf = (column: Column) =>
  column.kind === "point"
    ? column.point.id
    : column.kind === "stage"
      ? column.stage.id
      : `→ ${column.drum.id}`;
const names = (line: LineView) => pictureOf(line).pipes.map((pipe) => pipe.map(nameOf));

describe("how a line is drawn", () => {
  it("one pipe; a point that only joins two stages is left out", () => {
    expect(names(house)).toEqual([["supply", "sediment", "carbon", "after-carbon", "resin", "after-resin"]]);
  });

  it("each drum hangs from its point to where the next one hangs, with the room that it needs", () => {
    const { pipes, hung } = pictureOf(house);
    expect(hung?.map(({ drum: { id }, from, to }) => [id, from, to])).toEqual([
      ["fresh", 3, 5],
      ["mix", 5, 6],
    ]);
    expect(isMirrored(hung ?? [], 0)).toBe(true);
    const parts = widths(pipes[0] ?? [], hung ?? [], "wide");
    expect(parts.slice(0, 3)).toEqual([1.25, 0.85, 0.85]);
    expect((parts[3] ?? 0) + (parts[4] ?? 0)).toBeCloseTo(3);
    expect(parts[5]).toBeCloseTo(3);
  });

  const three = [
    drum("mix", "after-resin"),
    drum("fresh", "after-carbon"),
    drum("top-up", "after-resin", true),
  ];

  it("a second drum at a point has a tee of its own, behind the point's", () => {
    const shared = { ...house, drums: three };
    const { pipes, hung } = pictureOf(shared);
    expect(names(shared)[0]?.slice(3)).toEqual(["after-carbon", "resin", "after-resin", "→ top-up"]);
    expect(hung?.map(({ drum: { id }, from, to }) => [id, from, to])).toEqual([
      ["fresh", 3, 5],
      ["mix", 5, 6],
      ["top-up", 6, 7],
    ]);
    const parts = widths(pipes[0] ?? [], hung ?? [], "wide");
    expect(parts.slice(5)).toEqual([4, 4]);
  });

  it("water moves on to the tee that fills, and not past it", () => {
    const shared = { ...house, drums: three };
    const [pipe = []] = pictureOf(shared).pipes;
    expect(pipe.map((_, at) => runsAt(shared, pipe, at))).toEqual(pipe.map(() => true));
    const first = {
      ...house,
      drums: [drum("mix", "after-resin", true), drum("fresh", "after-carbon"), drum("top-up", "after-resin")],
    };
    expect(pipe.map((_, at) => runsAt(first, pictureOf(first).pipes[0] ?? [], at)).slice(-2)).toEqual([
      true,
      false,
    ]);
  });

  it("four drums, or a pipe that branches, put the drums in a row of their own", () => {
    const four = { ...house, drums: [...three, drum("b", "after-resin")] };
    expect(pictureOf(four).hung).toBeNull();
    expect(names(four)[0]).not.toContain("→ top-up");
    const branched = {
      ...house,
      points: [...house.points, point("after-membrane", { hasProbe: true })],
      stages: [...house.stages, stage("membrane", "after-carbon", "after-membrane")],
    };
    expect(pictureOf(branched).hung).toBeNull();
    expect(names(branched)[1]).toEqual(["membrane", "after-membrane"]);
  });

  it("a ring of stages ends", () => {
    const ring = { ...house, stages: [...house.stages, stage("back", "after-resin", "after-carbon")] };
    expect(names(ring)[0]).toContain("back");
  });

  it("water moves as far as to what fills", () => {
    const [pipe = []] = pictureOf(house).pipes;
    expect(pipe.map((_, at) => runsAt(house, pipe, at))).toEqual(pipe.map(() => true));
    const fresh = { ...house, drums: [drum("fresh", "after-carbon", true), drum("mix", "after-resin")] };
    expect(pipe.map((_, at) => runsAt(fresh, pipe, at))).toEqual([true, true, true, true, false, false]);
  });
});
