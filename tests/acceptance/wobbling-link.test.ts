// A node starts anew on a link that is late by turns: it sends two or three packs at once, or each second one waits. Its packs
// come as fast as they are made, so it is no backlog: what its overflow float says wakes. Written down before the first run.
import { describe, expect, it } from "vitest";
import { createLineBench } from "./line-bench.ts";

/** Packs each `everyS` s, as late as `lateS` says in turn; the overflow float is wet from `wetS` on. Gives when it woke, s. */
function wokenAtS({ everyS, lateS, wetS }: { everyS: number; lateS: readonly number[]; wetS: number }) {
  const bench = createLineBench();
  const sent = Array.from({ length: Math.ceil(600 / everyS) }, (_, seq) => {
    const madeS = 10 + seq * everyS;
    return { seq, madeS, atS: madeS + (lateS[seq % lateS.length] ?? 0) };
  }).sort((a, b) => a.atS - b.atS || a.seq - b.seq);
  for (const { seq, madeS, atS } of sent) {
    const float = { boot: 3, seq, up: madeS + 5, n: "float-3", vb: madeS >= wetS };
    bench.node("drums", [float, { n: "float-2", vb: true }], atS);
    const woken = bench.alarms().find(({ alarm, annunciated }) => annunciated && alarm.attention === "wake");
    if (woken) return atS;
  }
  return null;
}

describe("a link that is late by turns", () => {
  it.each([
    ["as they are made", 5, [0], 30],
    ["each second pack is 3 s late", 5, [0, 3], 60],
    ["two packs at once", 5, [5, 0], 90],
    ["three packs of a second at once", 1, [2, 1, 0], 30],
    ["two packs of 15 s at once", 15, [15, 0], 150],
    ["each fifth pack of a second is 4 s late", 1, [0, 0, 0, 0, 4], 60],
  ])("%s: its overflow float wakes", (_name, everyS, lateS, withinS) => {
    const atS = wokenAtS({ everyS, lateS, wetS: 60 });
    expect(atS).not.toBeNull();
    expect(atS).toBeLessThan(60 + withinS);
  });
});
