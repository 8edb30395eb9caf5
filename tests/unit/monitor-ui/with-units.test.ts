import { expect, it } from "vitest";
import { withUnits } from "../../../monitor-ui/src/format/with-units.ts";

const shown = (text: string) => withUnits(text).replaceAll("\u00a0", "~");

it.each([
  ["239 of 200 L now, 202 at 18:48", "239 of 200~L now, 202 at 18:48"],
  ["8.4 µS/cm, limit 5", "8.4~µS/cm, limit 5"],
  ["Filling · 2.6 L/min · 1 h 12 min to the float", "Filling · 2.6~L/min · 1~h 12~min to the float"],
  ["98 % watched at 18.2 °C", "98~% watched at 18.2~°C"],
  ["0,4 mg/L, 52 gal, 3 kg, 40 s", "0,4~mg/L, 52~gal, 3~kg, 40~s"],
  // Words are no units: a row may end before them.
  ["12 Liter, 3 holes, 4 sensors, 2 mins, 24 Nov", "12 Liter, 3 holes, 4 sensors, 2 mins, 24 Nov"],
  ["in 3 fills", "in 3 fills"],
])("%s", (text, kept) => expect(shown(text)).toBe(kept));
