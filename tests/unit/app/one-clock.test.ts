import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const source = fileURLToPath(new URL("../../../gateway/src/", import.meta.url));
/** Every way to ask the machine for the time. */
const asks = /\bDate\.now\b|\bperformance\.now\b|\bnew Date\(\)|\bTemporal\.Now\b|\bhrtime\b|\buptime\(/;

it("nothing in the gateway asks for the time but the one file that hands it to the clock", () => {
  const files = readdirSync(source, { recursive: true, encoding: "utf8" }).filter((name) =>
    name.endsWith(".ts"),
  );
  expect(files.length).toBeGreaterThan(100);
  const asking = files.filter((name) => asks.test(readFileSync(join(source, name), "utf8")));
  expect(asking).toEqual([join("app", "host-time.ts")]);
});
