// Drums attacked by physics of our own, which share nothing with the gateway or its simulator: nearly two hundred
// scenarios, each with what must come out of it written down before it was run. Here are those that once came out
// otherwise by a fault, and a few of each kind; all of them in `npm run soak -- drums`.
import { describe, expect, it } from "vitest";
import * as blindStops from "./attacked/blind-stops.ts";
import { liveThrough } from "./attacked/life.ts";
import * as nodes from "./attacked/nodes.ts";
import * as paces from "./attacked/paces.ts";
import * as probes from "./attacked/probes.ts";
import * as stops from "./attacked/stops.ts";
import * as supply from "./attacked/supply.ts";

const all = process.env.DRUMLIN_PACK_S !== undefined;
const groups = { stops, "blind stops": blindStops, paces, supply, probes, nodes };
for (const [name, scenes] of Object.entries(groups))
  describe(name, () => {
    const lived = Object.values(scenes)
      .flat()
      .filter(({ isMended }) => all || isMended);
    it.each(lived.map((scene) => [scene.name, scene] as const))("%s", (_name, scene) => {
      const { surprises, log } = liveThrough(scene);
      expect(surprises, log.join("\n")).toEqual([]);
    });
  });
