import { sayBy } from "@drumlin/gateway/words";
import { expect, it } from "vitest";

const pairs = [
  ["wet", "nass"],
  ["{drum} took {litres} from {other}.", "{other} gab {drum} {litres}."],
  ["{drum} is {state}.", "{drum} ist {state}."],
] as const;

it.each([
  ["Mix took 7 L from Fresh.", "Fresh gab Mix 7 L."],
  ["Mix is wet.", "Mix ist nass."],
  ["Mix is dry.", "Mix ist dry."],
  ["wet", "nass"],
  ["Mix was wet.", "Mix was wet."],
])("what stands in the braces keeps its place in the other language's order: %s", (english, german) => {
  expect(sayBy(pairs, english)).toBe(german);
});
