import {
  askedKinds,
  decodePack,
  encodeCbor,
  encodeJson,
  encodeRequest,
  encodeResponse,
  type NodeRequest,
  parsePresence,
  parseRequest,
  parseResponse,
  parseTopic,
  resolvePack,
  type SenmlRecord,
} from "@drumlin/firmware-protocol";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import packs from "../../../firmware-protocol/vectors/packs.json" with { type: "json" };
import requests from "../../../firmware-protocol/vectors/requests.json" with { type: "json" };
import responses from "../../../firmware-protocol/vectors/responses.json" with { type: "json" };
import rfc from "../../../firmware-protocol/vectors/rfc8428.json" with { type: "json" };

const bytesOf = (vector: { json?: string; hex?: string }) =>
  vector.hex === undefined ? new TextEncoder().encode(vector.json) : Uint8Array.fromHex(vector.hex);

function resolvedOf(records: readonly SenmlRecord[], now: number) {
  const { records: resolved, refusals } = resolvePack(records);
  expect(refusals).toEqual([]);
  return resolved.map(({ name, unit, value, time }) => ({
    n: name,
    ...(unit === null ? {} : { u: unit }),
    v: value,
    t: time.relative ? now + time.s : time.s,
  }));
}

describe("RFC 8428's own packs", () => {
  it.each(rfc.packs.map((pack) => [pack.title, pack] as const))(
    "%s resolves as the RFC says, in JSON and in CBOR",
    (_, { pack, resolved, now }) => {
      for (const encode of [encodeJson, encodeCbor]) {
        const decoded = decodePack(encode(pack as unknown as SenmlRecord[]));
        if (!decoded.ok) throw new Error(decoded.refusal.message);
        const found = resolvedOf(decoded.records, now);
        expect(found.map(({ t, ...rest }) => ({ ...rest, t: Number(t.toFixed(3)) }))).toEqual(resolved);
      }
    },
  );
});

describe("requests to a node", () => {
  const read = (json: string, retained = false) =>
    parseRequest(new TextEncoder().encode(json), {
      ...requests.context,
      requests: askedKinds.filter((kind) => requests.context.requests.includes(kind)),
      retained,
    });
  it.each(requests.taken.map((one) => [one.title, one] as const))("%s", (_, { json, request }) => {
    expect(read(json)).toEqual({ ok: true, request });
    expect(read(encodeRequest(request as NodeRequest))).toEqual({ ok: true, request });
  });
  it.each(requests.passedOver.map((one) => [one.code, one] as const))("%s", (code, { json, retained }) => {
    expect(read(json, retained)).toEqual({ ok: false, code });
  });
});

describe("answers of a node", () => {
  const bytes = (json: string) => new TextEncoder().encode(json);
  it.each(responses.taken.map((one) => [one.title, one] as const))("%s", (_, { json, response }) => {
    expect(parseResponse(bytes(json))).toEqual(response);
    expect(parseResponse(bytes(encodeResponse(response)))).toEqual(response);
  });
  it.each(responses.notUnderstood)("none: %s", (json) => {
    expect(parseResponse(bytes(json))).toBeNull();
  });
  it.each(responses.presences)("what it may be asked stands in its presence: $json", ({ json, requests }) => {
    const read = parsePresence(bytes(json));
    if (!read.ok || read.presence.state !== "online") throw new Error(json);
    expect(read.presence.requests ?? null).toEqual(requests);
  });
});

describe("our own vectors", () => {
  it.each(packs.good.map((pack) => [pack.title, pack] as const))("%s", (_, pack) => {
    const decoded = decodePack(bytesOf(pack));
    if (!decoded.ok) throw new Error(decoded.refusal.message);
    const { records, refusals } = resolvePack(decoded.records);
    expect(refusals).toEqual([]);
    expect(records.map(({ name }) => name)).toEqual(pack.names);
    expect(records.map(({ unit }) => unit)).toEqual(pack.units);
    expect(records.map(({ value }) => value)).toEqual(pack.values);
  });

  it.each(packs.refused.map((pack) => [pack.code, pack] as const))("%s", (code, pack) => {
    const decoded = decodePack(bytesOf(pack));
    const codes = decoded.ok
      ? resolvePack(decoded.records).refusals.map((refusal) => refusal.code)
      : [decoded.refusal.code];
    expect(codes).toEqual([code]);
  });
});

describe("whatever comes", () => {
  it("decoding and resolving never throw", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.uint8Array({ maxLength: 300 }),
          fc.json().map((text) => new TextEncoder().encode(text)),
        ),
        (bytes) => {
          const decoded = decodePack(bytes);
          if (decoded.ok) resolvePack(decoded.records);
          parsePresence(bytes);
          parseResponse(bytes);
          parseTopic(new TextDecoder().decode(bytes));
          return true;
        },
      ),
      { numRuns: 5000 },
    );
  });
  it("what is encoded is decoded again, in both forms", () => {
    const record = fc.record({
      n: fc.stringMatching(/^[a-z0-9][a-z0-9-]{0,10}$/),
      u: fc.constantFrom("S/m", "Cel", "m"),
      v: fc.double({ noNaN: true, noDefaultInfinity: true }),
    });
    fc.assert(
      fc.property(fc.array(record, { minLength: 1, maxLength: 10 }), (records) => {
        for (const encode of [encodeJson, encodeCbor]) {
          const decoded = decodePack(encode(records));
          if (!decoded.ok) return false;
          const values = resolvePack(decoded.records).records.map(({ value }) => value as number);
          if (!records.every(({ v }, place) => values[place] === v + 0)) return false;
        }
        return true;
      }),
      { numRuns: 1000 },
    );
  });
  it("one bad record spoils no other", () => {
    const { records, refusals } = resolvePack([
      { n: "a", v: 1 },
      { n: "b", u: "%", v: 2 },
      { n: "c", v: 3 },
    ]);
    expect(records.map(({ name }) => name)).toEqual(["a", "c"]);
    expect(refusals).toMatchObject([{ code: "unit-percent", record: 1 }]);
  });
});
