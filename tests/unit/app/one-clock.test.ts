import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const source = fileURLToPath(new URL("../../../gateway/src/", import.meta.url));
/** Every way to ask the machine for the time. */
const asks = /\bDate\.now\b|\bperformance\.now\b|\bnew Date\(\)|\bTemporal\.Now\b|\bhrtime\b|\buptime\(/;

/** A thread can't be handed the clock. It may measure how long a request took, never ask what time it is. */
const measures = join("series", "influx", "influx-worker.ts");

it("nothing in the gateway asks for the time but the one file that hands it to the clock", () => {
  const files = readdirSync(source, { recursive: true, encoding: "utf8" }).filter((name) =>
    name.endsWith(".ts"),
  );
  expect(files.length).toBeGreaterThan(100);
  const asking = files.filter((name) => {
    const text = readFileSync(join(source, name), "utf8");
    return asks.test(name === measures ? text.replaceAll("performance.now", "") : text);
  });
  expect(asking).toEqual([join("app", "host-time.ts")]);
});
