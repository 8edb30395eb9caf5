import { deserialize, serialize } from "node:v8";
import type { Act } from "@drumlin/gateway/acts";
import { type Line, readLine } from "@drumlin/gateway/line";
import {
  createMeasurementsStage,
  createProofsStage,
  type FloatTests,
  type Measurement,
  type Proof,
  proofCell,
} from "@drumlin/gateway/measurements";
import { type ActDone, Composer, type PathEntry, SavedRows } from "@drumlin/gateway/path";
import { createReadingsStage } from "@drumlin/gateway/readings";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const yamlOf = (stop: string) => `
drumlin: 1
site: saltmarsh-house
points: { supply: {} }
stages: { carbon: { kind: carbon, from: supply, to: after-carbon } }
drums: { fresh: { volume: 200 L, fed_by: after-carbon, stop: ${stop} } }
`;
const unknown = "drums/float-1";
const wetWhenClosed = "{ channel: drums/float-1, wet: true }";
const beginMs = Date.UTC(2026, 5, 1);
const float = "fresh.stop";

function lineOf(text: string): Line | null {
  const read = readLine(text);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.line;
}

/** A float's node and a person, through the stages up to measurements. */
function bench(stop = unknown) {
  const saved = new SavedRows();
  const make = () =>
    new Composer({
      stages: [createReadingsStage(), createProofsStage(), createMeasurementsStage()],
      readLine: lineOf,
    });
  let composer = make();
  let seq = 0;
  const proofs: Proof[] = [];
  let state: number | null = null;
  let refused: string | null = null;
  const push = (entry: object, atS: number) => {
    seq += 1;
    composer.push({ seq, receivedAt: beginMs + atS * 1000, ...entry } as PathEntry, (event) => {
      if (event.kind === "proof") proofs.push(event as Proof);
      if (event.kind === "measurement") state = (event as Measurement).value;
      if (event.kind === "act-done") refused = (event as ActDone).refused?.message ?? null;
    });
  };
  push({ kind: "start" }, 0);
  push({ kind: "line", yaml: yamlOf(stop) }, 0);
  return {
    proofs,
    say(closed: boolean, atS: number) {
      const payload = new TextEncoder().encode(JSON.stringify([{ n: "float-1", vb: closed }]));
      push({ kind: "message", topic: "drumlin/1/saltmarsh-house/drums/readings", payload }, atS);
    },
    act(act: object, atS: number): string | null {
      push({ kind: "act", act: { id: `a-${seq}`, by: "Mara", float, ...act } as Act }, atS);
      return refused;
    },
    line: (text: string, atS: number) => push({ kind: "line", yaml: yamlOf(text) }, atS),
    tick: (atS: number) => push({ kind: "tick" }, atS),
    restart(atS: number) {
      saved.apply(deserialize(serialize(composer.changes())));
      composer = make();
      composer.restore(saved, { last: () => [], list: () => [] });
      push({ kind: "start" }, atS);
    },
    wet: () => state === 1,
    tests: (): FloatTests | undefined => composer.board.get(proofCell, float),
  };
}

const lifted = { type: "proof-start", method: "lifted" };

/** Says the same contact every 2 s of [fromS, toS). */
function hold(house: ReturnType<typeof bench>, closed: boolean, fromS: number, toS: number): void {
  for (let atS = fromS; atS < toS; atS += 2) house.say(closed, atS);
}

describe("a guided test of a float", () => {
  it("dry, wet, dry: proved, with who, how and what was seen", () => {
    const house = bench();
    hold(house, false, 0, 10);
    expect(house.act(lifted, 10)).toBeNull();
    expect(house.tests()?.running).toMatchObject({ by: "Mara", method: "lifted", dueMs: beginMs + 190_000 });
    hold(house, false, 12, 20);
    hold(house, true, 20, 26);
    expect(house.tests()?.running?.saw).toHaveLength(2);
    expect(house.proofs).toEqual([]);
    hold(house, false, 26, 30);
    expect(house.proofs).toMatchObject([
      {
        id: `${float}@${beginMs + 10_000}`,
        by: "Mara",
        method: "lifted",
        result: "passed",
        wetWhen: true,
        endedAtMs: beginMs + 28_000,
        saw: [
          { closed: false },
          { closed: true, tMs: beginMs + 20_000 },
          { closed: false, tMs: beginMs + 26_000 },
        ],
      },
    ]);
    expect(house.tests()?.running).toBeNull();
  });

  it.each([
    ["no-change", (house: ReturnType<typeof bench>) => hold(house, false, 12, 190)],
    ["silent", () => {}],
    [
      "stayed",
      (house: ReturnType<typeof bench>) => {
        hold(house, false, 12, 20);
        hold(house, true, 20, 190);
      },
    ],
    [
      "flickered",
      (house: ReturnType<typeof bench>) => {
        for (let atS = 12; atS < 40; atS += 1) house.say(atS % 2 === 0, atS);
      },
    ],
    [
      "no-change",
      // One wet reading alone is no wet float.
      (house: ReturnType<typeof bench>) => {
        house.say(true, 20);
        hold(house, false, 22, 190);
      },
    ],
  ] as const)("%s: not proved, and nothing is changed", (result, happens) => {
    const house = bench(wetWhenClosed);
    hold(house, false, 0, 10);
    house.act(lifted, 10);
    happens(house);
    house.tick(200);
    expect(house.proofs.map((proof) => proof.result)).toEqual([result]);
    house.say(true, 210);
    expect(house.wet()).toBe(true);
  });

  it("a float that reads wet while it hangs is turned only when a person says that it hung, and not much later", () => {
    for (const stop of [unknown, wetWhenClosed]) {
      const house = bench(stop);
      hold(house, true, 0, 10);
      house.act(lifted, 10);
      hold(house, false, 12, 20);
      hold(house, true, 20, 26);
      expect(house.proofs.map(({ result }) => result)).toEqual(["reversed"]);
      house.say(true, 28);
      expect(house.wet()).toBe(true);
      expect(house.act({ type: "proof-turn", test: "fresh.stop@1" }, 30)).toMatch(/did not see/);
      const [test] = house.proofs;
      expect(house.act({ type: "proof-turn", test: test?.id }, 30)).toBeNull();
      house.say(true, 32);
      expect(house.wet()).toBe(false);
      expect(house.proofs.at(-1)).toMatchObject({ id: test?.id, result: "turned", wetWhen: false });
      expect(house.act({ type: "proof-turn", test: test?.id }, 34)).toMatch(/did not see/);
      house.restart(40);
      house.say(true, 42);
      expect(house.wet()).toBe(false);
    }
    const late = bench();
    hold(late, true, 0, 10);
    late.act(lifted, 10);
    hold(late, false, 12, 20);
    hold(late, true, 20, 26);
    expect(late.act({ type: "proof-turn", test: late.proofs[0]?.id }, 3000)).toMatch(/too long ago/);
  });

  it("goes on over a restart, and is over in its time", () => {
    const house = bench();
    hold(house, false, 0, 10);
    house.act(lifted, 10);
    hold(house, true, 12, 20);
    house.restart(60);
    hold(house, false, 62, 66);
    expect(house.proofs.map(({ result }) => result)).toEqual(["passed"]);
    const slow = bench();
    hold(slow, false, 0, 10);
    slow.act(lifted, 10);
    slow.restart(60);
    slow.tick(191);
    expect(slow.proofs.map(({ result }) => result)).toEqual(["silent"]);
  });

  it("is refused while one runs, while nothing is heard, and given up by a person", () => {
    const house = bench();
    expect(house.act(lifted, 5)).toMatch(/Nothing is heard/);
    house.say(false, 10);
    expect(house.act(lifted, 100)).toMatch(/Nothing is heard/);
    house.say(false, 100);
    expect(house.act({ type: "proof-cancel" }, 101)).toMatch(/No test/);
    expect(house.act(lifted, 101)).toBeNull();
    expect(house.act(lifted, 102)).toMatch(/Mara is testing/);
    expect(house.act({ type: "proof-cancel" }, 103)).toBeNull();
    expect(house.proofs.map(({ result }) => result)).toEqual(["cancelled"]);
  });

  it("a newer word of the line file goes before an older test", () => {
    const house = bench();
    hold(house, true, 0, 10);
    house.act(lifted, 10);
    hold(house, false, 12, 20);
    hold(house, true, 20, 26);
    house.act({ type: "proof-turn", test: house.proofs[0]?.id }, 30);
    house.say(true, 32);
    expect(house.wet()).toBe(false);
    house.line(wetWhenClosed, 40);
    house.say(true, 42);
    expect(house.wet()).toBe(true);
  });

  it("whatever a contact says: proved only if it hung, was up and hung again, each held", () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 40 }), fc.boolean(), (said, hung) => {
        const house = bench(`{ channel: drums/float-1, wet: ${!hung} }`);
        hold(house, hung, 0, 10);
        house.act(lifted, 10);
        for (const [index, closed] of said.entries()) house.say(closed, 12 + 2 * index);
        const isProved = house.proofs.some(({ result }) => result === "passed");
        const text = said.map((closed) => (closed === hung ? "h" : "u")).join("");
        if (isProved) expect(text).toMatch(/uu(h?u+)*h*?h/);
        // Held up and let go, plainly: that is always proved.
        if (/^h*u{2,}h{2,}/.test(text)) expect(isProved).toBe(true);
        if (!/uu/.test(text)) expect(isProved).toBe(false);
      }),
      { numRuns: 200 },
    );
  });
});
