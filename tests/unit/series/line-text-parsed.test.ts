import fc from "fast-check";
import { expect, it } from "vitest";
import { LineText } from "../../../gateway/src/series/line-text.ts";

interface Point {
  readonly measurement: string;
  readonly tags: Readonly<Record<string, string>>;
  readonly fields: Readonly<Record<string, string>>;
  readonly time: string;
}

/**
 * Reads one line as the reference says (InfluxData, "Line protocol": syntax, special characters): the measurement ends at the first
 * comma or blank, tags at the first blank, fields at the next; a backslash before a comma, an equals sign or a blank takes the
 * meaning from it and goes, any other stays.
 */
function parsed(line: string): Point {
  let at = 0;
  const until = (ends: string): string => {
    let text = "";
    for (; at < line.length && !ends.includes(line[at] as string); at += 1) {
      if (line[at] === "\\" && [",", "=", " "].includes(line[at + 1] ?? "")) at += 1;
      text += line[at];
    }
    return text;
  };
  const measurement = until(", ");
  const pairs = (): Record<string, string> => {
    const found: Record<string, string> = {};
    for (let isMore = true; isMore; ) {
      const key = until("=, ");
      if (key === "" || line[at] !== "=") throw new Error(`no pair at ${at}: ${line}`);
      at += 1;
      const value = until("=, ");
      if (value === "") throw new Error(`an empty value at ${at}: ${line}`);
      if (key in found) throw new Error(`${key} stands twice: ${line}`);
      found[key] = value;
      isMore = line[at] === ",";
      if (isMore) at += 1;
    }
    return found;
  };
  let tags = {};
  if (line[at] === ",") {
    at += 1;
    tags = pairs();
  }
  if (line[at] !== " ") throw new Error(`no fields at ${at}: ${line}`);
  at += 1;
  const fields = pairs();
  if (line[at] !== " ") throw new Error(`no time at ${at}: ${line}`);
  return { measurement, tags, fields, time: line.slice(at + 1) };
}

/** A float as the reference has it: digits with a point, or with an exponent; no sign of "i", "u" or "t" behind it. */
const float = /^-?\d+(\.\d+)?([eE][+-]?\d+)?$/;
const bits = (value: number) => new BigUint64Array(Float64Array.of(value).buffer)[0] as bigint;

const name = fc
  .tuple(
    fc.constantFrom("reading/", "point/", ""),
    fc.oneof(
      fc.string({ minLength: 1, unit: "grapheme", maxLength: 40 }),
      fc.string({
        minLength: 1,
        maxLength: 12,
        unit: fc.constantFrom(
          " ",
          ",",
          "=",
          '"',
          "'",
          "\\",
          "\n",
          "\r",
          "#",
          "a",
          "µ",
          "水",
          "😀",
          "%",
          "%5C",
          "%0A",
          "%25",
        ),
      }),
    ),
  )
  .map((parts) => parts.join(""));
const row = fc.record({
  place: fc.nat(1000),
  tMs: fc.oneof(
    fc.integer({ min: 1_600_000_000_000, max: 2_000_000_000_000 }),
    fc.integer({ min: -8e12, max: 9e12 }),
    fc.constantFrom(0, 1, 999_999_999_999, 1_000_000_000_000, 1_000_000_999_999, 1_001_000_000_000),
  ),
  value: fc.oneof(
    fc.double(),
    fc.constantFrom(0, -0, 5e-324, -2.2250738585072e-308, 1e308, -1e308, 1e21, 1e-7, 0.1, 0.1),
    fc
      .bigInt({ min: 0n, max: 2n ** 64n - 1n })
      .map((all) => new Float64Array(BigUint64Array.of(all).buffer)[0]!),
  ),
  flag: fc.constantFrom(1, 2, 3, 4, 9),
});

it("what is sent to InfluxDB is read by the rules of line protocol as the rows that it was made of", () => {
  const property = fc.property(
    fc.uniqueArray(name, { minLength: 1, maxLength: 6 }),
    fc.array(row, { minLength: 1, maxLength: 40 }),
    (names, rows) => {
      const text = new LineText({
        names,
        series: Uint32Array.from(rows, ({ place }) => place % names.length),
        tMs: Float64Array.from(rows, ({ tMs }) => tMs),
        values: Float64Array.from(rows, ({ value }) => value),
        flags: Uint8Array.from(rows, ({ flag }) => flag),
      })
        .of(0, rows.length)
        .toString();
      const lines = text.split("\n");
      expect(lines).toHaveLength(rows.length);
      const tagOf = new Map<string, string>();
      for (const [index, line] of lines.entries()) {
        const { place, tMs, value, flag } = rows[index] as (typeof rows)[number];
        const series = names[place % names.length] as string;
        const { measurement, tags, fields, time } = parsed(line);
        const [first = "", ...rest] = series.split("/");
        const isWord = rest.length > 0 && /^[a-z][a-z0-9-]*$/.test(first);
        expect(measurement).toBe(isWord ? first : "series");
        expect(Object.keys(tags)).toEqual(["series"]);
        const tag = tags.series as string;
        // By RFC 3986, where a letter has no place in a line.
        expect(tag.replaceAll(/%(5C|0A|0D|25)/g, (code) => decodeURIComponent(code))).toBe(series);
        expect(tagOf.get(tag) ?? series).toBe(series);
        tagOf.set(tag, series);
        expect(tag).not.toMatch(/[\\\n\r]/);
        expect(fields.q).toBe(`${flag}i`);
        expect(time).toBe(`${BigInt(tMs)}`);
        if (!Number.isFinite(value)) expect(fields).not.toHaveProperty("v");
        else {
          expect(fields.v).toMatch(float);
          // The sign of nothing is lost, and nothing else.
          expect(bits(Number(fields.v))).toBe(bits(value + 0));
        }
      }
    },
  );
  fc.assert(property, { numRuns: 1500, seed: 17 });
});
