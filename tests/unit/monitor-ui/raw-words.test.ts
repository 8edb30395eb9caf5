import { expect, it } from "vitest";
import { rawWords } from "../../../monitor-ui/src/format/raw-words.ts";

// Factors: NIST SP 811 (2008), app. B.8 (litre, bar); the micro- and milli- of the SI.
it.each([
  [0.000062, "S/m", "0.62 µS/cm"],
  [0.0412, "S/m", "412 µS/cm"],
  [18.2, "Cel", "18.2 °C"],
  [0.00005, "m3/s", "3.00 L/min"],
  [0.05, "l/s", "3.00 L/min"],
  [0.138, "m3", "138 L"],
  [250_000, "Pa", "2.50 bar"],
  [0.0021, "A", "2.10 mA"],
  [35, "1", "35.0 1"],
  [1, null, "1.00"],
] as const)("%s %s is read as %s", (value, unit, words) => expect(rawWords(value, unit)).toBe(words));
