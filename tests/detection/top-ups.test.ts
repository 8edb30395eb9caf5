// One life whose float lets 3 L in at a time, whose phases made its meter seem to have missed each third top-up: 5 calls
// of `flow-disagrees` before its resin was spent.
import { expect, it } from "vitest";
import { kitOf } from "./kits.ts";
import { createScenes, scenes } from "./scenes.ts";

it("3 L top-ups by a meter: nobody is called before the resin lets salts through", () => {
  const scene = scenes.find(({ name }) => name === "resin-spent, 3 L top-ups");
  if (!scene) throw new Error("no such scene");
  const life = createScenes(kitOf("meter"), 2)(scene);
  expect(life.conditions).toEqual(["resin-breakthrough (tell)"]);
});
