import { describe, expect, it } from "vitest";
import type { OpenFill } from "../../../gateway/src/fills/record/open-fill.ts";
import type { Following } from "../../../gateway/src/fills/record/running.ts";
import { tripVolume } from "../../../gateway/src/fills/record/trip-volume.ts";

/** A drum of 200 L filled at 4 L/min, its float wet for 60 s: what the level says now, and its most while the float hung dry. */
const tripOf = (litres: number, highestL?: number) =>
  tripVolume(
    {
      place: { drum: { volumeL: 200 } },
      said: {
        atMs: 60_000,
        level: { litres, sigmaL: 0.25, flowing: true, flowLPerMin: 4 },
        stop: { wet: true, sinceMs: 0 },
      },
    } as unknown as Following,
    { highestL } as OpenFill,
  ).tripAtL;

describe("where the level stood when the float tripped, told a pack of 60 s later", () => {
  it.each([
    ["the valve shut with the float: where it stands", 170, 170, 170],
    ["it ran on for that minute: where it stood then", 174, 170, 170],
    ["the float dry was last seen a minute before the trip: by the flow since", 174, 166, 170],
    ["a wave on the dry float does not lift the trip over the level", 170, 173, 170],
    ["nothing was seen while it hung dry: by the flow since", 174, undefined, 170],
  ])("%s", (_, litres, highestL, tripL) => {
    expect(tripOf(litres, highestL)).toBe(tripL);
  });
});
