import { expect, it } from "vitest";
import { ringsWords } from "../../../monitor-ui/src/format/proof-words.ts";

it("a test of an overflow float says beforehand that it rings; that of any other float rings nothing", () => {
  expect(ringsWords("overflow")).toMatch(/“over its highest level” rings/);
  for (const role of ["stop", "start", "low"] as const) expect(ringsWords(role)).toBeNull();
});
