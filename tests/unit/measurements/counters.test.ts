import { isProvedUnchanged } from "@drumlin/gateway/measurements";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import vectors from "../../../firmware-protocol/vectors/counters.json" with { type: "json" };
import { beginMs, bench, float, labels, meter } from "./counters-bench.ts";

describe("what counters prove", () => {
  it.each(vectors.silences.map((one) => [one.title, one] as const))(
    "vector: %s",
    (_, { packs: given, still }) => {
      const packs: readonly { boot?: number; up?: number; contact: boolean; changes: number }[] = given;
      const { pack, tick, proved, readings } = bench();
      const first = packs[0];
      let packSeq = 0;
      const send = (
        atS: number,
        { boot, up, contact, changes }: { boot?: number; up?: number; contact: boolean; changes: number },
      ) =>
        pack(
          [
            { ...labels(boot, up, packSeq++), n: "float-1", vb: contact },
            { n: "float-1.changes", u: "count", v: changes },
          ],
          atS * 1000,
        );
      // Seen to count: the contact changed over and the count went with it.
      const before = (upS: number, contact: boolean, changes: number) =>
        send(upS, { ...first, ...(first?.up === undefined ? {} : { up: upS }), contact, changes });
      for (let upS = 60; upS < 90; upS += 5) before(upS, first?.contact !== true, 3);
      before(90, first?.contact === true, 4);
      before(95, first?.contact === true, 4);
      let [atS, was] = [100, 100];
      for (const [index, one] of packs.entries()) {
        const up = one.up ?? was + 900;
        if (index > 0) atS += up > was ? up - was : 900;
        was = up;
        if ((one.up ?? 100) < 100) packSeq = 0;
        send(atS, one);
      }
      tick((atS + 60) * 1000);
      const times = readings.filter(({ channel }) => channel === float).map(({ tMs }) => tMs);
      const [fromMs, toMs] = times.slice(-2) as [number, number];
      expect(isProvedUnchanged(proved(float), fromMs, toMs)).toBe(still);
    },
  );

  it("a total proves a silence once it was seen to count what ran, to its own step", () => {
    const { pack, proved } = bench();
    const send = (upS: number, flowLPerMin: number, totalL: number) =>
      pack(
        [
          { ...labels(7, upS, upS), n: "flow-1", u: "m3/s", v: flowLPerMin / 60_000 },
          { n: "flow-1.total", u: "m3", v: totalL / 1000 },
        ],
        upS * 1000,
      );
    for (let upS = 60; upS < 90; upS += 5) send(upS, 0, 12.5);
    expect(proved(meter)).toBeUndefined();
    for (let upS = 90; upS <= 150; upS += 5) send(upS, 6, 12.5 + (upS - 90) / 10);
    send(155, 0, 19);
    send(1000, 0, 19);
    expect(proved(meter)).toEqual({
      sinceMs: beginMs + 155_000,
      atMs: beginMs + 1_000_000,
      withinL: 0.5,
      counted: true,
    });
    send(1005, 0, 19.5);
    expect(proved(meter)?.sinceMs).toBe(beginMs + 1_005_000);
  });

  it("a total that stands while water runs, or goes on in steps of 10 L, proves nothing", () => {
    for (const totalOf of [(l: number) => 20 + 0 * l, (l: number) => 20 + Math.floor(l / 10) * 10]) {
      const { pack, proved } = bench();
      for (let upS = 60; upS <= 960; upS += 5) {
        const flow = upS < 660 ? 6 : 0;
        pack(
          [
            { ...labels(7, upS, upS), n: "flow-1", u: "m3/s", v: flow / 60_000 },
            { n: "flow-1.total", u: "m3", v: totalOf(Math.min(60, (upS - 60) / 10)) / 1000 },
          ],
          upS * 1000,
        );
      }
      expect(proved(meter)).toBeUndefined();
    }
  });

  /** The contact at times of the node's own clock, after the counter was seen to count. */
  function countedAt(counts: readonly (readonly [atS: number, contact: boolean, changes: number])[]) {
    const { pack, proved, tick } = bench();
    let packSeq = 0;
    for (const [atS, contact, changes] of counts) {
      const t = beginMs / 1000 + atS;
      pack(
        [
          { ...labels(7, 60 + packSeq, packSeq++), n: "float-1", vb: contact, t },
          { n: "float-1.changes", v: changes, t },
        ],
        2_000_000 + packSeq * 1000,
      );
    }
    tick(2_100_000);
    return proved(float);
  }
  const counting = [
    [0, false, 3],
    [5, true, 4],
  ] as const;

  it("a pack that comes late and counts otherwise ends what stood", () => {
    const stood = [...counting, [100, true, 4], [1000, true, 4]] as const;
    expect(countedAt(stood)).toMatchObject({ sinceMs: beginMs + 5000, atMs: beginMs + 1_000_000 });
    expect(countedAt([...stood, [500, true, 4]])).toMatchObject({ sinceMs: beginMs + 5000 });
    expect(countedAt([...stood, [500, false, 6]])).toMatchObject({ sinceMs: beginMs + 1_000_000 });
  });

  it("a counter that was seen to wrap early proves nothing any more", () => {
    const wrapped = [...counting, [10, false, 5], [15, true, 0], [20, false, 1], [1000, false, 1]] as const;
    expect(countedAt(wrapped)).toBeUndefined();
  });

  it("a number too great to go on by one proves nothing: it stands whatever happens", () => {
    const great = 2 ** 60;
    const proof = countedAt([...counting, [10, true, great], [1000, true, great]]);
    expect(isProvedUnchanged(proof, beginMs + 10_000, beginMs + 1_000_000)).toBe(false);
  });

  it("counts of any kind throw nothing and prove only what they say", () => {
    const counts = fc.constantFrom(0, 1, 2, -1, 0.5, 1e-300, 1e308, 2 ** 32 - 1, 2 ** 53 - 1, 2 ** 53, 9e9);
    const said = fc.record({ contact: fc.boolean(), changes: counts, flow: counts, total: counts });
    fc.assert(
      fc.property(fc.array(said, { maxLength: 12 }), (list) => {
        const { pack, proved } = bench();
        for (const [place, { contact, changes, flow, total }] of list.entries())
          pack(
            [
              { ...labels(7, 60 + 60 * place, place), n: "float-1", vb: contact },
              { n: "float-1.changes", v: changes },
              { n: "flow-1", u: "m3/s", v: flow },
              { n: "flow-1.total", u: "m3", v: total },
            ],
            60_000 * place,
          );
        for (const proof of [proved(float), proved(meter)])
          if (proof) expect(Number.isFinite(proof.withinL) && proof.sinceMs <= proof.atMs).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it("a counter is no channel without a place", () => {
    const { pack, told } = bench();
    pack(
      [
        { ...labels(7, 100, 1), n: "float-1", vb: true },
        { n: "float-1.changes", v: 4 },
        { n: "x.total", v: 1 },
      ],
      0,
    );
    expect(told).not.toContain("unassigned");
  });
});

/** What a node lives through between two packs, and what becomes of them. */
const happenings = fc.array(
  fc.record({
    dtS: fc.integer({ min: 1, max: 40 }),
    what: fc.constantFrom(
      "nothing",
      "nothing",
      "nothing",
      "change",
      "change-twice",
      "fill",
      "start",
      "start-same",
      "gateway",
    ),
    net: fc.constantFrom("up", "up", "up", "lost", "held", "back", "back-shuffled"),
  }),
  { minLength: 20, maxLength: 90 },
);

describe("no order of packs proves a silence empty that was not", () => {
  it("with changes, fills, starts, wraps, packs lost, late and out of order, and restarts of the gateway", () => {
    let proofs = 0;
    fc.assert(
      fc.property(happenings, fc.integer({ min: 0, max: 4 }), (steps, toWrap) => {
        const { pack, proved, readings, restart } = bench();
        const counted = 2 ** 32;
        let [atS, boot, startedS, packSeq] = [100, 1, 0, 0];
        let [changes, pulses, contact, wrapsAt] = [counted - toWrap, 0, false, counted];
        let held: (readonly object[])[] = [];
        const events: { readonly channel: string; readonly atS: number }[] = [];
        const change = () => {
          contact = !contact;
          changes = (changes + 1) % wrapsAt;
          events.push({ channel: float as string, atS });
        };
        const madeS = () => {
          // At which true time a reading was made: told by the pack itself.
          const made = new Map<number, number>();
          for (const { channel, tMs, value } of readings) if (channel === "drums/true") made.set(tMs, value);
          return made;
        };
        const recordsNow = (flow: number) => [
          { ...labels(boot, atS - startedS, packSeq++), n: "true", v: atS },
          { n: "float-1", vb: contact },
          { n: "float-1.changes", u: "count", v: changes },
          { n: "flow-1", u: "m3/s", v: flow / 60_000 },
          { n: "flow-1.total", u: "m3", v: pulses * 5e-5 },
        ];
        const step = (what: string, way: string, dtS: number) => {
          // Under a boot number that it had before, its first pack tells by its own number.
          const net = what === "start-same" ? "up" : way;
          atS += dtS;
          let flow = 0;
          if (what.startsWith("change")) change();
          if (what === "change-twice") change();
          if (what === "fill") {
            flow = 6;
            pulses += 2 * dtS;
            events.push({ channel: meter as string, atS });
          }
          if (what.startsWith("start")) {
            if (what === "start") boot += 1;
            [startedS, packSeq, changes, pulses, wrapsAt] = [atS, 0, 0, 0, counted];
            atS += 12;
          }
          if (what === "gateway") restart(atS * 1000);
          const records = recordsNow(flow);
          if (net === "lost") return;
          held.push(records);
          if (net === "held") return;
          if (net === "back-shuffled") held.reverse();
          for (const [index, one] of held.entries()) pack(one, atS * 1000 + index);
          held = [];
        };
        for (let index = 0; index < 6; index += 1) step(index === 3 ? "change" : "fill", "up", 5);
        for (const { what, net, dtS } of steps) {
          step(what, net, dtS);
          const made = madeS();
          for (const channel of [float, meter]) {
            const still = proved(channel as string);
            if (!still) continue;
            const [fromS, toS] = [made.get(still.sinceMs), made.get(still.atMs)];
            if (fromS === undefined || toS === undefined || fromS === toS) continue;
            proofs += 1;
            const between = events.filter(
              (one) => one.channel === channel && one.atS > fromS && one.atS <= toS,
            );
            expect(between, `${channel} from ${fromS} to ${toS} s`).toEqual([]);
          }
        }
      }),
      { numRuns: 80 },
    );
    // It is not that nothing is ever proved.
    expect(proofs).toBeGreaterThan(500);
  });
});
