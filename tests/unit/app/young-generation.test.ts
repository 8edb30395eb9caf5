import { expect, it } from "vitest";
import { busyReadingsPerSecond, growWhenBusy } from "../../../gateway/src/app/young-generation.ts";

it("the space for new objects grows once many readings come in a second, and not before", () => {
  let readings = 1_000_000;
  let grown = 0;
  const young = growWhenBusy(
    () => readings,
    () => {
      grown += 1;
    },
  );
  young.look();
  readings += busyReadingsPerSecond - 1;
  young.look();
  readings += busyReadingsPerSecond - 1;
  young.look();
  expect(grown).toBe(0);
  readings += busyReadingsPerSecond;
  young.look();
  expect(grown).toBe(1);
  young.stop();
});
