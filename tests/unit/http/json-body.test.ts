import fc from "fast-check";
import { expect, it } from "vitest";
import { repeatedKey } from "../../../gateway/src/http/json-body.ts";

// RFC 7493 §2.3: "Objects in I-JSON messages MUST NOT have members with duplicate names"; after processing of escapes.
it.each([
  ['{"a":1,"a":2}', "a"],
  ['{"a":1,"\\u0061":2}', "a"],
  ['[{"x":{"b":1 , "c":[], "b" : 2}}]', "b"],
  ['{"a":{"a":1},"b":[{"a":1},{"a":2}]}', null],
  ['{"a":"b","b":"a"}', null],
  ['["a","a"]', null],
  ['{"a":"{\\"a\\":1,\\"a\\":2}"}', null],
  ['{"\\\\":1,"\\\\":2}', "\\"],
  ["7", null],
])("%s repeats %s", (json, key) => {
  expect(() => JSON.parse(json)).not.toThrow();
  expect(repeatedKey(json)).toBe(key);
});

it("no JSON that was written by JSON.stringify repeats a key; with one put in once more it does", () => {
  fc.assert(
    fc.property(fc.jsonValue(), fc.string(), (value, key) => {
      expect(repeatedKey(JSON.stringify(value))).toBeNull();
      const twice = `{${JSON.stringify(key)}:${JSON.stringify(value)},"${key}x":0,${JSON.stringify(key)}:1}`;
      let isJson = true;
      try {
        JSON.parse(twice);
      } catch {
        isJson = false;
      }
      if (isJson) expect(repeatedKey(twice)).toBe(key);
    }),
  );
});

it.each([
  `{"a":"${"\\\\".repeat(32_000)}"}`,
  `"${'\\"'.repeat(32_000)}"`,
  `{${Array.from({ length: 6000 }, (_, n) => `"${n}" \n :0`).join(",")}}`,
  `{"a"${" ".repeat(64_000)}:0}`,
])("64 KiB of the worst JSON is read in a moment", (json) => {
  JSON.parse(json);
  const begun = process.cpuUsage();
  expect(repeatedKey(json)).toBeNull();
  expect(process.cpuUsage(begun).user / 1000).toBeLessThan(1000);
});
