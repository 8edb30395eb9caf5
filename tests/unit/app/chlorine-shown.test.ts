import { createPipeline } from "@drumlin/gateway/app";
import { expect, it } from "vitest";
import { liveOf } from "./live-of.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
stages: { carbon: { kind: carbon, from: supply, to: after-carbon } }
drums: { mix: { volume: 200 L, fed_by: after-carbon, stop: drums/stop } }
`;
const beginMs = Date.UTC(2026, 2, 3, 4);
const carbon = { kind: "point", id: "after-carbon" };
const mix = { kind: "drum", id: "mix" };

/** What a drum's card says of chlorine after tests, a minute each, `days` later. */
function shownAfter(tests: readonly (readonly [place: object, value: number])[], days = 0) {
  const pipeline = createPipeline();
  pipeline.push({ seq: 1, receivedAt: beginMs, kind: "line", yaml }, () => {});
  for (const [at, [place, value]] of tests.entries()) {
    const act = { type: "hand-test", id: `${at}`, by: "mara", place, what: "total-chlorine", value };
    pipeline.push(
      { seq: at + 2, receivedAt: beginMs + (at + 1) * 60_000, kind: "act", act } as never,
      () => {},
    );
  }
  const tick = { seq: 9, receivedAt: beginMs + days * 86_400_000 + 3_600_000, kind: "tick" };
  pipeline.push(tick as never, () => {});
  const live = liveOf(pipeline);
  return live.lineView()?.drums[0]?.water.unseen;
}

it("a drum's card says what its tests of chlorine tell", () => {
  expect(shownAfter([])).toBe("Chlorine: never tested. Conductivity can't see it.");
  expect(shownAfter([[carbon, 0.02]])).toBe("Chlorine: passed today. Conductivity can't see it.");
  expect(shownAfter([[carbon, 0.02]], 3)).toBe(
    "Chlorine: the test passed 3 d ago. Conductivity can't see it.",
  );
  expect(shownAfter([[carbon, 0.02]], 8)).toContain("last passed 8 d ago, test it again");
  expect(shownAfter([[carbon, 0.5]])).toBe("Chlorine: the last test found 0.5 mg/L.");
});
it("… and that a drum which passed is filled through carbon that failed", () => {
  const failed =
    "Chlorine: passed in this drum, but 0.5 mg/L was found in the water that fills it. Test behind the carbon again.";
  expect(
    shownAfter([
      [carbon, 0.5],
      [mix, 0.02],
    ]),
  ).toBe(failed);
  expect(
    shownAfter([
      [carbon, 0.5],
      [mix, 0.02],
      [carbon, 0.02],
    ]),
  ).toContain("passed today");
});
