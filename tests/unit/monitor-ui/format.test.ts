import { describe, expect, it } from "vitest";
import { duration, figure } from "../../../monitor-ui/src/format/numbers.ts";
import {
  changeWords,
  notJudgedWords,
  reasonWords,
  stateWords,
} from "../../../monitor-ui/src/format/words.ts";

describe("what stands on the screen", () => {
  it.each([
    // Near pure water the third decimal decides: ASTM D1193 type I allows at most 0.056 uS/cm.
    [0.055, "0.055"],
    [0, "0.00"],
    [0.0996, "0.10"],
    [9.996, "10.0"],
    [99.96, "100"],
    [7.42, "7.42"],
    [41.26, "41.3"],
    [412.4, "412"],
    [-3.456, "-3.46"],
  ])("figure(%d) is %s", (value, text) => expect(figure(value)).toBe(text));
  it.each([
    [-5, "0 s"],
    [45_000, "45 s"],
    [72 * 60_000, "1 h 12 min"],
    [120 * 60_000, "2 h"],
    [3 * 86_400_000, "3 days"],
  ])("duration(%d ms) is %s", (ms, text) => expect(duration(ms)).toBe(text));
  it("words for what is not judged, for states and for reasons", () => {
    expect(notJudgedWords("no-flow")).toBe("not judged: no water running");
    expect(notJudgedWords(null)).toBe("");
    expect(stateWords("returned-unacknowledged")).toBe("ended, not seen yet");
    expect(reasonWords(["temperature-lost", "unproven"])).toBe(
      "temperature probe lost, probe not proved lately",
    );
    expect(changeWords("attention-raised")).toBe("more urgent now");
  });
  it("a word of a newer gateway is shown as it came", () => {
    expect(stateWords("half-seen" as never)).toBe("half-seen");
    expect(changeWords("constructor" as never)).toBe("constructor");
    expect(notJudgedWords("asleep" as never)).toBe("not judged: asleep");
  });
});
