import { Readings, type ReadingsOutcome } from "@drumlin/gateway/readings";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const beginMs = Date.UTC(2026, 5, 1);

function take(payload: string | Uint8Array, kind = "readings"): ReadingsOutcome[] {
  const readings = new Readings();
  readings.useSite("saltmarsh-house");
  const out: ReadingsOutcome[] = [];
  const bytes = typeof payload === "string" ? new TextEncoder().encode(payload) : payload;
  const topic = `drumlin/1/saltmarsh-house/press/${kind}`;
  readings.push({ kind: "message", seq: 1, receivedAt: beginMs, topic, payload: bytes }, beginMs, (outcome) =>
    out.push(outcome),
  );
  return out;
}
const codesOf = (out: readonly ReadingsOutcome[]) =>
  out.flatMap((outcome) => (outcome.kind === "rejection" ? [outcome.code] : []));

// A message is journaled before it is read: one that throws here would end the gateway at every start.
describe("what would end the gateway is refused by name", () => {
  const own = '{"toString":0,"valueOf":0}';
  it.each([
    ["a version that is an object", `[{"bver":${own},"n":"a","v":1}]`, "readings", "version-unknown"],
    [
      "a version 20,000 arrays deep",
      `[{"bver":${"[".repeat(20_000)}${"]".repeat(20_000)},"n":"a","v":1}]`,
      "readings",
      "version-unknown",
    ],
    [
      "a protocol that is an object",
      `{"state":"online","protocol":${own}}`,
      "presence",
      "presence-not-understood",
    ],
    ["data that is an object", `[{"n":"a","vd":${own}}]`, "readings", "label-wrong-type"],
    ["a time beyond every date", '[{"n":"a","t":1e300,"v":1}]', "readings", "time-too-far-ahead"],
    ["a time before every date", '[{"n":"a","t":-1e300,"v":1}]', "readings", "time-too-old"],
    [
      "times that add up to infinity",
      '[{"bt":1.7e308,"n":"a","t":1.7e308,"v":1}]',
      "readings",
      "value-not-finite",
    ],
    [
      "values that add up to infinity",
      '[{"bv":1.7e308,"n":"a","v":1.7e308}]',
      "readings",
      "value-not-finite",
    ],
    ["a sum without a value", '[{"n":"a","u":"m3/s","s":12}]', "readings", "value-missing"],
  ])("%s", (_, payload, kind, code) => {
    expect(codesOf(take(payload, kind))).toEqual([code]);
  });

  it("an example stays short, however long the name", () => {
    for (const record of [
      { n: "a".repeat(5000), v: 1 },
      { n: "a".repeat(5000), vs: "on" },
    ])
      for (const outcome of take(JSON.stringify([record])))
        if (outcome.kind === "rejection") expect(`${outcome.example}`.length).toBeLessThanOrEqual(200);
  });

  it("whatever stands behind whichever label, nothing throws and every reading is finite", () => {
    const hostile = fc.oneof(
      fc.constantFrom(1e300, -1e300, 1.7e308, 1_780_000_000, -1, 0, 10, 26),
      fc.constantFrom(JSON.parse(own), [[]], null, true, "", "%", "S/m", "kW", "x".repeat(300)),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      fc.jsonValue(),
    );
    const labels = "bn bt bu bv bs bver n u v vs vb vd s t ut boot seq up x_ __proto__".split(" ");
    const record = fc.oneof(
      { weight: 9, arbitrary: fc.dictionary(fc.constantFrom(...labels), hostile, { maxKeys: 6 }) },
      { weight: 1, arbitrary: hostile },
    );
    const presence = fc.dictionary(
      fc.constantFrom("state", "boot", "firmware", "protocol", "period_s", "channels"),
      fc.oneof(hostile, fc.constantFrom("online", "offline")),
    );
    fc.assert(
      fc.property(fc.array(record, { minLength: 1, maxLength: 4 }), presence, (records, said) => {
        const out = [...take(JSON.stringify(records)), ...take(JSON.stringify(said), "presence")];
        return out.every(
          (outcome) =>
            outcome.kind !== "reading" || (Number.isFinite(outcome.value) && Number.isFinite(outcome.tMs)),
        );
      }),
      { numRuns: 5000 },
    );
  });
});
