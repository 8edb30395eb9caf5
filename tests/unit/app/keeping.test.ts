import { expect, it } from "vitest";
import { readKeeping } from "../../../gateway/src/app/options.ts";

const asked = (given: Record<string, string>) => readKeeping((name) => given[name]);

it.each([
  [{}, {}],
  [{ "keep-days": "90" }, { keepMs: 90 * 86_400_000 }],
  [
    { "keep-days": "7", "keep-mb": "500" },
    { keepMs: 7 * 86_400_000, keepBytes: 500e6 },
  ],
] as [Record<string, string>, object][])("%j", (given, kept) => {
  expect(asked(given)).toEqual(kept);
});

it.each([
  { "keep-days": "6" },
  { "keep-days": "-1" },
  { "keep-days": "a year" },
  { "keep-mb": "49" },
  { "keep-mb": "1e3" },
])("%j is refused", (given) => {
  expect(() => asked(given as Record<string, string>)).toThrow(/write a whole number from (7|50) on/);
});
