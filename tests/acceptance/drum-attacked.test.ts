// Drums attacked by physics of our own, which share nothing with the gateway or its simulator: more than two hundred
// scenarios, each with what must come out of it written down before it was run. Here are those that once came out
// otherwise by a fault; all of them in `npm run soak -- drums`.
import { describe, expect, it } from "vitest";
import { again } from "./attacked/again.ts";
import { blindStops } from "./attacked/blind-stops.ts";
import { liveThrough } from "./attacked/life.ts";
import { nodes } from "./attacked/nodes.ts";
import { paces } from "./attacked/paces.ts";
import { probes } from "./attacked/probes.ts";
import { stops } from "./attacked/stops.ts";
import { supplies } from "./attacked/supply.ts";

const isWhole = process.env.DRUMLIN_PACK_S !== undefined;
describe.each(Object.entries({ stops, blindStops, paces, supplies, probes, nodes, again }))(
  "%s",
  (_group, scenes) => {
    const lived = scenes.filter(({ isMended }) => isWhole || isMended);
    it.each([
      ["every scenario is named once", null] as const,
      ...lived.map((scene) => [scene.name, scene] as const),
    ])("%s", (_name, scene) => {
      if (scene === null) {
        expect(new Set(scenes.map(({ name, kit }) => name + JSON.stringify(kit))).size).toBe(scenes.length);
        return;
      }
      const { surprises, log } = liveThrough(scene);
      expect(surprises, log.join("\n")).toEqual([]);
    });
  },
);
