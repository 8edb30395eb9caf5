import { decodePack, PackForms, readPlainPack, resolvePack } from "@drumlin/firmware-protocol";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import packs from "../../../firmware-protocol/vectors/packs.json" with { type: "json" };
import rfc from "../../../firmware-protocol/vectors/rfc8428.json" with { type: "json" };

const bytesOf = (text: string) => new TextEncoder().encode(text);

/** What the whole way says. */
function whole(bytes: Uint8Array) {
  const decoded = decodePack(bytes);
  return decoded.ok ? resolvePack(decoded.records) : decoded.refusal;
}

/** A number as somebody may write it: JavaScript's own spelling, or digits of any kind. */
const digits = (maxLength: number) =>
  fc
    .array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength })
    .map((all) => all.join("").replace(/^0+(?=\d)/, ""));
const fraction = fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 25 });
const numberText = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => JSON.stringify(value)),
  fc.integer().map(String),
  fc.constantFrom(
    "-0",
    "0",
    "0.0",
    "-0.0",
    "1e5",
    "1E-7",
    "1e999",
    "01",
    "-",
    ".5",
    "1.",
    "1e",
    "+1",
    "9007199254740993",
  ),
  fc
    .tuple(
      fc.constantFrom("", "-"),
      digits(20),
      fc.option(fraction),
      fc.constantFrom("", "", "e3", "E-12", "e+300"),
    )
    .map(([sign, whole, after, power]) => `${sign}${whole}${after ? `.${after.join("")}` : ""}${power}`),
);
const nameText = fc.oneof(
  fc.constantFrom(
    '"t-1"',
    '"ec-1"',
    '"S/m"',
    '"Cel"',
    '"%"',
    '""',
    '"l/s"',
    '"a name of over sixty-four signs: it is no name that anybody gives"',
  ),
  fc.string({ maxLength: 6 }).map((text) => JSON.stringify(text)),
);
const label = fc.oneof(
  { weight: 9, arbitrary: fc.tuple(fc.constantFrom("n", "u", "bn", "bu"), nameText) },
  { weight: 9, arbitrary: fc.tuple(fc.constantFrom("v", "t", "bt", "v", "boot", "seq", "up"), numberText) },
  {
    weight: 2,
    arbitrary: fc.tuple(fc.constant("vb"), fc.constantFrom("true", "false", "truely", "1", "null")),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(
      fc.constantFrom("bver", "s", "bv", "vs", "ut", "x", "x_", "__proto__", ""),
      fc.constantFrom("26", "1", '"a"'),
    ),
  },
);
const space = fc.constantFrom("", "", "", " ", "\n\t");
const record = fc
  .tuple(fc.array(label, { maxLength: 5 }), space)
  .map(
    ([labels, gap]) =>
      `{${gap}${labels.map(([name, value]) => `"${name}"${gap}:${value}`).join(`${gap},`)}${gap}}`,
  );
const packText = fc
  .tuple(fc.array(record, { maxLength: 4 }), space)
  .map(([records, gap]) => `${gap}[${records.join(`${gap},`)}]${gap}`);

describe("a plain pack, read in one pass", () => {
  it("gives what the whole way gives, or leaves it to that", () => {
    fc.assert(
      fc.property(packText, (text) => {
        const bytes = bytesOf(text);
        const plain = readPlainPack(bytes);
        if (plain !== null) expect(plain).toEqual(whole(bytes));
      }),
      { numRuns: 4000 },
    );
  });

  it("nothing that is cut, changed or put in makes it say something else", () => {
    const good =
      '[{"boot":7,"seq":12,"up":3.25,"bn":"a-","n":"t-1","u":"Cel","v":18.20,"t":-2.5},{"n":"f","vb":false},{"v":-0.0}]';
    fc.assert(
      fc.property(fc.nat(good.length), fc.nat(3), fc.string({ maxLength: 3 }), (at, cut, put) => {
        const bytes = bytesOf(good.slice(0, at) + put + good.slice(at + cut));
        const plain = readPlainPack(bytes);
        if (plain !== null) expect(plain).toEqual(whole(bytes));
      }),
      { numRuns: 3000 },
    );
  });

  it("takes numbers to the last bit", () => {
    fc.assert(
      fc.property(numberText, (text) => {
        const bytes = bytesOf(`[{"n":"a","v":${text}}]`);
        const plain = readPlainPack(bytes);
        if (plain !== null) expect(plain.records[0]?.value).toBe(0 + (JSON.parse(text) as number));
      }),
      { numRuns: 5000 },
    );
  });

  it("takes what nodes send, and leaves the rest", () => {
    const takes = (text: string) => readPlainPack(bytesOf(text)) !== null;
    expect(takes('[{"boot":1,"seq":2,"n":"t-1","u":"Cel","v":18.2,"t":1700000000.5}]')).toBe(true);
    expect(takes(' [ { "bn" : "x-", "boot": 1 }, {"n":"a","vb":true} ] \n')).toBe(true);
    for (const rest of [
      "",
      "[]",
      "{}",
      '[{"n":"a","v":1}',
      '[{"n":"a","v":1}]x',
      '[{"n":"a","v":1,"v":2}]',
      '[{"n":"a","v":1,"vb":true}]',
      '[{"n":"a"}]',
      '[{"n":"\\u0061","v":1}]',
      '[{"n":"ä","v":1}]',
      '[{"n":"a","v":1e400}]',
      '[{"n":"a","u":"%","v":1}]',
      '[{"n":"a","v":1},{"seq":3,"n":"b","v":1}]',
      '[{"bn":"a"}]',
      '[{"n":"-","v":1}]',
      '[{"bver":26,"n":"a","v":1}]',
      `[${Array(257).fill('{"n":"a","v":1}').join()}]`,
    ])
      expect([rest.slice(0, 60), takes(rest)]).toEqual([rest.slice(0, 60), false]);
    expect(takes(`[${Array(256).fill('{"n":"a","v":1}').join()}]`)).toBe(true);
  });

  it("says of every vector what the whole way says", () => {
    const all = [
      ...packs.good,
      ...packs.refused,
      ...rfc.packs.map(({ pack }) => ({ json: JSON.stringify(pack) })),
    ];
    const texts = all.flatMap((vector) =>
      "json" in vector && vector.json !== undefined ? [vector.json] : [],
    );
    const plain = texts.map((text) => readPlainPack(bytesOf(text)));
    for (const [at, given] of plain.entries())
      if (given !== null) expect(given).toEqual(whole(bytesOf(texts[at] as string)));
    expect(plain.slice(0, 3).every((given) => given !== null)).toBe(true);
  });

  it("is read by its node's form where only numbers differ, to the same outcome", () => {
    const written = [
      '[{"boot":#,"seq":#,"n":"t-1","u":"Cel","v":#,"t":#},{"n":"ec-1","u":"S/m","v":#,"t":#}]',
      '[{"bn":"a-","bt":#,"bu":"l","n":"t","v":#,"t":#},{"n":"f","vb":true},{"bt":#,"n":"e","v":#},{"u":"Pa","n":"g","v":#}]',
      '[{"up":#,"boot":#,"bn":"b"},{"n":"c","v":#},{"n":"d","bu":"V","vb":false,"t":#},{"n":"e","v":#}]',
      '[{"n":"c","v":#},{"bt":#,"v":#,"bn":"d"}]',
    ];
    const numbers = fc.array(
      fc.oneof({ weight: 5, arbitrary: fc.constantFrom("-0", "1", "2.50", "-3e2") }, numberText),
      {
        minLength: 20,
        maxLength: 20,
      },
    );
    let byForm = 0;
    fc.assert(
      fc.property(fc.constantFrom(...written), numbers, (text, spelled) => {
        const forms = new PackForms();
        readPlainPack(bytesOf(text.replaceAll("#", "17")), forms);
        const bytes = bytesOf(text.replaceAll("#", () => spelled.pop() as string));
        if (forms.read(bytes) !== null) byForm += 1;
        const plain = readPlainPack(bytes, forms);
        expect(plain).toEqual(readPlainPack(bytes));
        if (plain !== null) expect(plain).toEqual(whole(bytes));
      }),
      { numRuns: 3000 },
    );
    expect(byForm).toBeGreaterThan(500);
  });

  it("of a form that was read before is compared and not parsed, until something else than a number changes", () => {
    const forms = new PackForms();
    const pack = (seq: number, v: string, rest = "") =>
      bytesOf(
        `[{"boot":1,"seq":${seq},"n":"t-1","u":"Cel","v":${v},"t":1700000000.${seq}},{"n":"f","vb":true${rest}}]`,
      );
    expect(forms.read(pack(1, "18.2"))).toBeNull();
    readPlainPack(pack(1, "18.2"), forms);
    expect(forms.read(pack(22, "-0.5e1"))).toEqual(whole(pack(22, "-0.5e1")));
    for (const other of ["", "01", "1e999", "-", '"a"', "true"])
      expect(forms.read(pack(3, other))).toBeNull();
    expect(forms.read(pack(3, "18.2", " "))).toBeNull();
    expect(forms.read(pack(3, "18.2").subarray(0, -1))).toBeNull();
    expect(forms.read(bytesOf(`${new TextDecoder().decode(pack(3, "18.2"))} `))).toBeNull();
    // Four ways of writing are kept, the oldest goes first.
    for (const rest of [" ", "  ", "   ", "\t"]) readPlainPack(pack(4, "1", rest), forms);
    expect(forms.read(pack(5, "2"))).toBeNull();
    expect(forms.read(pack(5, "2", "\t"))).toEqual(whole(pack(5, "2", "\t")));
    // A long one is read whole each time: nothing of it is kept.
    const long = (v: number) => bytesOf(`[${Array(100).fill(`{"n":"a","v":${v}}`).join()}]`);
    readPlainPack(long(1), forms);
    expect(forms.read(long(2))).toBeNull();
  });
});
