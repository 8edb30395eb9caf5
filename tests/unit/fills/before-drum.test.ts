// What stands before a drum: bad where it is over the drum's own band, or where nobody says what it is.
import { describe, expect, it } from "vitest";
import { isBadBefore } from "../../../gateway/src/fills/word/before-drum.ts";

type Place = Parameters<typeof isBadBefore>[0];
type Ctx = Parameters<typeof isBadBefore>[1];

/** The probe before a drum whose band is 10 and whose point's limit is 5 uS/cm. */
function isBad(latest: object | null, place: object = {}): boolean {
  const asked: string[] = [];
  const ctx = {
    get: (_cell: unknown, key: string) => {
      asked.push(key);
      return key === "point/p/conductivity25" ? (latest ?? undefined) : undefined;
    },
  } as unknown as Ctx;
  const drum = { seenAt: "p", feedAt: null, band25: 10, limit25: 5, ...place } as unknown as Place;
  return isBadBefore(drum, ctx);
}
const reads = (value: number | null, flag = 1, more: object = {}) => ({
  measurement: { value, flag, reasons: [], ...more },
});

describe("water before a drum", () => {
  it("is bad over the drum's band, not over what its point may read", () => {
    expect(isBad(reads(8))).toBe(false);
    expect(isBad(reads(10))).toBe(false);
    expect(isBad(reads(10.1))).toBe(true);
  });

  it("is judged by its point's limit where the drum has no band, and by nothing where there is neither", () => {
    expect(isBad(reads(8), { band25: null })).toBe(true);
    expect(isBad(reads(4), { band25: null })).toBe(false);
    expect(isBad(reads(400), { band25: null, limit25: null })).toBe(false);
    expect(isBad(null, { band25: null, limit25: null })).toBe(false);
  });

  it("is bad where its probe is no witness: silent, gone, failed, unproven, or at 0 without a resolution", () => {
    expect(isBad(null)).toBe(true);
    expect(isBad({ ...reads(1), gone: true })).toBe(true);
    expect(isBad(reads(null))).toBe(true);
    expect(isBad(reads(1, 4))).toBe(true);
    expect(isBad(reads(1, 1, { reasons: ["unproven"] }))).toBe(true);
    expect(isBad(reads(0))).toBe(true);
    expect(isBad(reads(0, 1, { belowResolution: true }))).toBe(false);
  });
});
