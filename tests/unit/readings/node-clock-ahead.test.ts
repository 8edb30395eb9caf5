import { describe, expect, it } from "vitest";
import { clockAheadMs, datedAheadMs, isOfPast } from "../../../gateway/src/readings/node-clock-ahead.ts";
import { afterPack, afterRejection } from "../../../gateway/src/readings/node-now.ts";

const record = (s: number, relative = false) => ({ time: { relative, s } }) as never;
const came = { upMs: null, receivedAtMs: 2_000_000_000_000 };
const settled = { clock: { offsetMs: 1_999_999_000_000, settled: true } } as never;
const noClock = { clock: null } as never;

describe("how far a node's dates are ahead of its packs", () => {
  it.each([
    ["the newest record counts", [record(1_999_999_000), record(2_000_000_300)], came, noClock, 300_000],
    ["relative times are no dates", [record(-5, true)], came, noClock, null],
    ["without up an earlier date may have waited", [record(1_999_999_000)], came, noClock, null],
    [
      "with up it is held against when the pack was made",
      [record(1_999_999_000)],
      { ...came, upMs: 700_000 },
      settled,
      -700_000,
    ],
  ] as const)("%s", (_, records, pack, packs, ahead) => {
    expect(clockAheadMs(datedAheadMs(records, pack, { offsetMs: 0 }), pack, packs)).toBe(ahead);
  });

  it("dates are the calendar's: its offset is taken off", () => {
    const dated = datedAheadMs([record(2_000_000_060)], came, { offsetMs: 60_000 });
    expect([dated, clockAheadMs(dated, came, noClock)]).toEqual([0, 0]);
  });
});

describe("when a node was last heard of now", () => {
  const packs = (...of: (readonly [receivedAtMs: number, datedAheadMs: number | null])[]) =>
    of.reduce<ReturnType<typeof afterPack> | undefined>(
      (node, [receivedAtMs, datedAheadMs]) =>
        afterPack(node, { kind: "pack", gap: 0, repeat: false, receivedAtMs, datedAheadMs } as never),
      undefined,
    );
  it.each([
    [
      "packs without dates are of now",
      [
        [1000, null],
        [6000, null],
      ],
      6000,
      6000,
    ],
    [
      "within 5 min they are, early or late",
      [
        [1000, 0],
        [6000, -300_000],
        [11_000, 300_000],
      ],
      11_000,
      11_000,
    ],
    [
      "a day back they are not, however often they come",
      [
        [1000, 0],
        [6000, -86_400_000],
        [11_000, -86_400_000],
      ],
      1000,
      11_000,
    ],
    [
      "a day ahead neither",
      [
        [1000, 0],
        [6000, 86_400_000],
      ],
      1000,
      6000,
    ],
    [
      "one that never was is missed from its first pack on",
      [
        [1000, -86_400_000],
        [6000, -86_400_000],
      ],
      1000,
      6000,
    ],
    [
      "what waited is followed by what is of now",
      [
        [1000, 0],
        [90_000, -600_000],
        [90_001, -5000],
      ],
      90_001,
      90_001,
    ],
  ] as const)("%s", (_, of, followedMs, lastSeenMs) => {
    expect(packs(...of)).toMatchObject({ followedMs, lastSeenMs });
  });
});

describe("what a node had kept", () => {
  const made = (seq: number, madeAtMs: number) => ({ pack: { seq } as never, madeAtMs });
  it.each([
    ["made just before it came", 1000, [made(7, 1_999_999_999_000)], false],
    ["made 5 min before", 1000, [made(7, 1_999_999_700_000)], false],
    ["made longer before, with others", 1000, [made(6, 2_000_000_000_000), made(7, 1_999_999_699_999)], true],
    ["waits until it is known when", 1000, [made(6, 2_000_000_000_000)], true],
    ["says nothing of its start", null, [], false],
  ] as const)("%s", (_, upMs, timed, is) => {
    expect(isOfPast({ seq: 7, upMs, receivedAtMs: 2_000_000_000_000 }, timed)).toBe(is);
  });

  /** A pack of now, then what was kept, each 5 s until then. */
  const keeping = (toS: number, periodMs: number | null) => {
    const pack = { kind: "pack", gap: 0, repeat: false, datedAheadMs: null };
    let node = afterPack(undefined, { ...pack, receivedAtMs: 0, isOfPast: false } as never);
    node = { ...node, periodMs };
    for (let s = 5; s <= toS; s += 5)
      node = afterPack(node, { ...pack, receivedAtMs: s * 1000, isOfPast: true } as never);
    return { node, next: (of: object) => afterPack(node, { ...pack, ...of } as never) };
  };
  it("is followed for 5 min, or 6 periods of a slow node; a pack of now begins anew", () => {
    expect(keeping(305, 5000).node.followedMs).toBe(305_000);
    const { node, next } = keeping(900, 5000);
    expect(node.followedMs).toBe(305_000);
    expect(keeping(900, 120_000).node.followedMs).toBe(725_000);
    expect(next({ receivedAtMs: 905_000, isOfPast: false })).toMatchObject({
      followedMs: 905_000,
      pastSinceMs: null,
    });
  });
});

describe("what of a node was refused", () => {
  it("is counted by packs: ten bad records of one are one", () => {
    const pack = { kind: "pack", node: "press", receivedAtMs: 1, gap: 0, repeat: false, clockAheadMs: null };
    let node = afterPack(undefined, { ...pack, seq: 1 } as never);
    for (let times = 0; times < 10; times += 1) node = afterRejection(node, 2);
    node = afterPack(node, { ...pack, seq: 2 } as never);
    expect(node).toMatchObject({ rejected: 10, packs: 2, sent: { entries: 2 }, refused: { entries: 1 } });
    // One that could not be read at all is one that was sent.
    expect(afterRejection(node, 3)).toMatchObject({
      packs: 2,
      sent: { entries: 3 },
      refused: { entries: 2 },
    });
  });
});
