// Houses in which all is well: nobody may be called. Each expectation was written down before the first run.
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { drawEvery, story } from "./drum-story.ts";

const kits: readonly (readonly [string, Kit])[] = [
  ["meter", { meter: true }],
  ["level", { level: true, tripsAt: 180, releasesAt: 160 }],
  ["level, nothing said of the float", { level: true }],
  ["meter and level", { meter: true, level: true, tripsAt: 180, releasesAt: 160 }],
  ["float only", { tripsAt: 180, releasesAt: 160 }],
  ["float only, nothing said of it", {}],
  ["membrane, meter", { meter: true, medium: "membrane" }],
];
const noise = { noiseL: 0.25 };
const each5s = { pressS: 5, drumsS: 5 };
const lives: readonly (readonly [string, House])[] = [
  ["draws of 20 L each hour", { draw: drawEvery(3600, 4.2, 300), ...noise }],
  ["draws of 5 L by bucket each 20 min", { draw: drawEvery(1200, 60, 5), ...noise }],
  ["a large water change of 100 L", { draw: (atS) => (atS >= 7200 && atS < 7800 ? 10 : 0), ...noise }],
  [
    "house pressure that swings by 50 %",
    { draw: drawEvery(3600, 4.2, 300), flow: (atS) => (Math.floor(atS / 3600) % 2 ? 2.7 : 4), ...noise },
  ],
  [
    "nodes at 15 s out of step",
    { draw: drawEvery(3600, 4.2, 300), pressS: 15, drumsS: 15, phaseS: 7, ...noise },
  ],
  [
    "waves at the float for 30 s after each trip",
    {
      draw: drawEvery(3600, 4.2, 300),
      ...each5s,
      contact: (atS, wet, forS) => wet && (forS > 30 || atS % 10 !== 0),
      ...noise,
    },
  ],
  ["noise of 0.5 L", { draw: drawEvery(3600, 4.2, 300), noiseL: 0.5 }],
];

for (const [kitName, kit] of kits)
  describe(kitName, () => {
    // Noise is a level's: without one it would be the first life again.
    const own = lives.filter(([name]) => kit.level || !name.startsWith("noise"));
    it.each(own)("%s: nobody is called in 5 h", (_name, house) => {
      const membrane = kit.medium === "membrane";
      const s = story(kit, { ...house, ...(membrane ? { kappa: 15 } : {}) });
      s.live(5 * 3600);
      expect(s.calls()).toEqual([]);
    });
  });
