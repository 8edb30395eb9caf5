import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ByteReader, ByteWriter } from "../../../gateway/src/series/codec/bytes.ts";
import { packed, unpacked } from "../../../gateway/src/series/codec/packed.ts";
import { putRows, takeRows } from "../../../gateway/src/series/codec/rows.ts";
import { type Columns, layeredAll, settled } from "../../../gateway/src/series/columns.ts";

const bitsOf = (values: Float64Array) => [
  ...new BigUint64Array(values.buffer.slice(values.byteOffset, values.byteOffset + values.byteLength)),
];
function thereAndBack(rows: Columns): { back: Columns; bytes: number } {
  const writer = new ByteWriter();
  putRows(writer, rows);
  const kept = packed(writer.written());
  return { back: takeRows(new ByteReader(unpacked(kept))), bytes: kept.length };
}
const columns = (rows: readonly (readonly [number, number, number])[]): Columns => ({
  tMs: Float64Array.from(rows, ([tMs]) => tMs),
  values: Float64Array.from(rows, ([, value]) => value),
  flags: Uint8Array.from(rows, ([, , flag]) => flag),
});

/** Numbers as probes write them, every double there is, and a few that come again and again. */
const numbers = fc.oneof(
  fc.integer({ min: -(10 ** 7), max: 10 ** 7 }).map((k) => k / 1000),
  fc.double(),
  fc.constantFrom(0, -0, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 5e-324, -5e-324),
  fc.constantFrom(Number.MAX_VALUE, -Number.MAX_VALUE, 2 ** 53, 2 ** 53 + 2, 1 / 3, 1e22, 1e-7),
);
const times = fc.oneof(
  fc.integer({ min: 0, max: 2_000_000_000_000 }),
  fc.double({ noNaN: true }),
  fc.constantFrom(8.64e15, -8.64e15, 0, 1.5),
);

describe("rows of a series, coded and packed, come back bit by bit", () => {
  it("any numbers, any times, in any order", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(times, numbers, fc.constantFrom(1, 2, 3, 4, 9)), { maxLength: 200 }),
        (given) => {
          const rows = columns(given);
          const { back } = thereAndBack(rows);
          expect(bitsOf(back.tMs)).toEqual(bitsOf(rows.tMs));
          expect(bitsOf(back.values)).toEqual(bitsOf(rows.values));
          expect(back.flags).toEqual(rows.flags);
        },
      ),
      { numRuns: 300 },
    );
  });

  it("columns of one kind: decimals with gaps, few words, counters, steps", () => {
    const one = fc.oneof(
      fc.array(
        fc.integer({ min: -5000, max: 5000 }).map((k) => k / 100),
        { minLength: 1, maxLength: 300 },
      ),
      fc.array(fc.constantFrom(1 / 3, 2 / 3, Number.NaN, Math.PI), { minLength: 1, maxLength: 300 }),
      fc.array(fc.integer({ min: 0, max: 2 ** 51 }), { minLength: 1, maxLength: 50 }),
      fc.array(fc.constantFrom(0, 1), { minLength: 1, maxLength: 300 }),
    );
    fc.assert(
      fc.property(one, fc.integer({ min: 1, max: 10_000 }), (values, periodMs) => {
        const rows = columns(values.map((value, index) => [1.7e12 + index * periodMs, value, 1]));
        const { back } = thereAndBack(rows);
        expect(bitsOf(back.tMs)).toEqual(bitsOf(rows.tMs));
        expect(bitsOf(back.values)).toEqual(bitsOf(rows.values));
      }),
      { numRuns: 300 },
    );
  });

  it("a day at 5 s of a probe with two decimals takes under 2 bytes a row; one that stands still under 0.1", () => {
    const day = (valueAt: (index: number) => number) =>
      columns(Array.from({ length: 17_280 }, (_, index) => [1.7e12 + index * 5000, valueAt(index), 1]));
    // A slow wave with a noise of three steps, from a generator with a fixed seed (Numerical Recipes, from memory).
    let seed = 1;
    const noise = () => {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
      return Math.floor(seed / 2 ** 30) - 1;
    };
    const wave = thereAndBack(
      day((index) => Math.round(41_200 + 300 * Math.sin(index / 2000) + noise()) / 100),
    );
    expect(wave.bytes / 17_280).toBeLessThan(2);
    expect(thereAndBack(day(() => 18.2)).bytes / 17_280).toBeLessThan(0.1);
  });

  it("a flipped bit or a cut is an error, not another value", () => {
    const writer = new ByteWriter();
    putRows(writer, columns(Array.from({ length: 500 }, (_, index) => [index * 5000, Math.sin(index), 1])));
    const kept = Uint8Array.from(packed(writer.written()));
    fc.assert(
      fc.property(fc.integer({ min: 5, max: kept.length - 1 }), fc.integer({ min: 0, max: 7 }), (at, bit) => {
        const damaged = Uint8Array.from(kept);
        damaged[at] = (damaged[at] as number) ^ (1 << bit);
        // A bit of the frame's header may mean nothing, as the size of its window: then the bytes are the same.
        let found: Uint8Array | null = null;
        try {
          found = unpacked(damaged);
        } catch {}
        if (found) expect(found).toEqual(unpacked(kept));
        expect(() => takeRows(new ByteReader(unpacked(kept.subarray(0, at))))).toThrow();
      }),
      { numRuns: 200 },
    );
  });
});

it("layers of rows: by time, the newest of the same time, whatever came in which order", () => {
  const rows = fc.array(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 9 })), {
    maxLength: 20,
  });
  fc.assert(
    fc.property(fc.array(rows, { maxLength: 6 }), (layers) => {
      const found = layeredAll(layers.map((layer) => settled(columns(layer.map(([t, v]) => [t, v, 1])))));
      const known = new Map(layers.flat());
      expect([...found.tMs]).toEqual([...known.keys()].sort((a, b) => a - b));
      expect([...found.values]).toEqual([...found.tMs].map((t) => known.get(t)));
    }),
    { numRuns: 300 },
  );
});
