import { serialize } from "node:v8";
import fc from "fast-check";
import { expect, it } from "vitest";
import { plainOf, storedPlain } from "../../../gateway/src/journal/state-row.ts";

const plain = fc.anything({ withMap: true, withSet: true, withTypedArray: true, withNullPrototype: false });
const json = fc.jsonValue({ maxDepth: 4 }).filter((value) => !Object.is(value, -0));

it("gives a row back as it was given, whatever is in it", () => {
  fc.assert(
    fc.property(plain, (given) => {
      expect(plainOf(storedPlain(given))).toStrictEqual(structuredClone(given));
    }),
  );
});

it("keeps what JSON would lose", () => {
  const rows = [
    undefined,
    Number.NaN,
    -0,
    { a: undefined },
    [undefined],
    [-0],
    new Map([["a", { b: Number.NaN }]]),
  ];
  for (const row of rows) expect(plainOf(storedPlain(row))).toStrictEqual(row);
  expect(Object.is(plainOf(storedPlain([-0])) as number, -0)).toBe(false);
  expect(Object.is((plainOf(storedPlain([-0])) as number[])[0], -0)).toBe(true);
});

it("has text for what is plain and for rings of numbers, no serializer of its own", () => {
  fc.assert(
    fc.property(json, (given) => {
      const has = JSON.stringify(given).includes("-0") || typeof storedPlain(given) === "string";
      expect(has).toBe(true);
    }),
  );
  const ring = Uint32Array.from({ length: 512 }, (_, index) => index * 8_000_000);
  const page = ring.subarray(100, 200);
  expect(typeof storedPlain(page)).toBe("string");
  expect(plainOf(storedPlain(page))).toStrictEqual(Uint32Array.from(page));
  expect(plainOf(storedPlain("ring:"))).toBe("ring:");
});

it("reads rows of the schema before", () => {
  const row = { since: 5, seen: null, pages: new Uint32Array([1, 2]) };
  expect(plainOf(serialize(row))).toStrictEqual(row);
});

it("a row that is changed after it was given stays as it was", () => {
  const row = { at: [1, 2] };
  const stored = storedPlain(row);
  row.at.push(3);
  expect(plainOf(stored)).toStrictEqual({ at: [1, 2] });
});
