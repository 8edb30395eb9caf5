// What stood on the morning's list in the calm hours and is put there again after a fault tells of that fault, too.
import { expect, it } from "vitest";
import { kitOf } from "./kits.ts";
import { createScenes, scenes } from "./scenes.ts";

it("a meter that sticks at 0, of which a list's alarm tells a second time, is seen", () => {
  const scene = scenes.find(({ name }) => name === "meter-stuck-at-0");
  if (!scene) throw new Error("no such scene");
  const life = createScenes(kitOf("meter+level"), 40)(scene);
  expect(life.isSeen).toBe(true);
});
