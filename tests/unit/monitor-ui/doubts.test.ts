import { describe, expect, it } from "vitest";
import { doubtOfCalibration, doubtOfLimit } from "../../../monitor-ui/src/format/doubts.ts";

describe("what speaks against a calibration", () => {
  it("nothing within 30 %", () => {
    for (const becomes of [70, 100, 130]) expect(doubtOfCalibration(100, becomes)).toBe("");
  });
  it("more asks again, with the per cent and its sign", () => {
    expect(doubtOfCalibration(100, 138)).toContain("+38 % is a lot");
    expect(doubtOfCalibration(1387, 1.413)).toContain("−100 % is a lot");
    expect(doubtOfCalibration(100, 69)).toContain("−31 % is a lot");
  });
});

describe("what speaks against a limit", () => {
  it("nothing for a step by up to three", () => {
    for (const becomes of [2, 5, 15]) expect(doubtOfLimit(5, becomes, 400)).toBe("");
  });
  it("a slip of the point, and a limit that the supply itself keeps, ask again", () => {
    expect(doubtOfLimit(5, 50, 400)).toContain("far from 5");
    expect(doubtOfLimit(5, 0.5, 400)).toContain("far from 5");
    expect(doubtOfLimit(5, 5000, 400)).toContain("would never ring");
    expect(doubtOfLimit(5, 5000, null)).toContain("far from 5");
  });
});
