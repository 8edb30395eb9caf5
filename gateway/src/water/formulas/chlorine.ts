import { z } from "zod";
import {
  againstLimit,
  chlorineCriteria,
  combinedChlorine,
  nitrogenOfChloramine,
  stripInterval,
} from "../chlorine.ts";
import { about, requireRisingList } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const chlorine = (what: string) => quantity("mg/L", 0, 100, `${what}, as Cl2`);
const steps = (what: string) =>
  z
    .array(chlorine(`a colour of the strip for ${what}`))
    .min(2)
    .max(1000);

/** Chlorine, chloramine, and the ammonia in it. */
export const chlorineFormulas = [
  defineFormula({
    id: "chlorine-combined",
    title: "Combined chlorine from total and free, as the strips' steps leave it possible",
    source: "definition: combined is total less free, both as Cl2 (Standard Methods 4500-Cl)",
    holds:
      "Each reading stands for all between its neighbouring halfway points. No high: the last colour bounds nothing. Free read above total is never within a limit.",
    example: { total: 2, free: 0.5, totalSteps: [0, 0.5, 1, 2, 4], freeSteps: [0, 0.5, 1, 2, 4] },
    inputs: {
      total: chlorine("total chlorine"),
      free: chlorine("free chlorine"),
      totalSteps: steps("total chlorine"),
      freeSteps: steps("free chlorine"),
      limit: chlorine(
        "limit of combined chlorine; left out: what fresh-water life bears for four days",
      ).default(chlorineCriteria.fresh.chronicMgPerL),
    },
    outputs: {
      code: z.enum(["ok", "free-above-total"]).meta({ description: "free above total: one was misread" }),
      low: result("mg/L", "least combined chlorine, as Cl2").nullable(),
      high: result("mg/L", "most combined chlorine, as Cl2").nullable(),
      difference: result("mg/L", "plain difference of the readings, not under 0"),
      against: z
        .enum(["above", "within", "can't-tell"])
        .nullable()
        .meta({ description: "against the limit" }),
    },
    compute: (given) => {
      requireRisingList("totalSteps", given.totalSteps);
      requireRisingList("freeSteps", given.freeSteps);
      const combined = combinedChlorine(
        about("total, totalSteps", () => stripInterval(given.total, given.totalSteps)),
        about("free, freeSteps", () => stripInterval(given.free, given.freeSteps)),
      );
      const difference = Math.max(0, given.total - given.free);
      if (combined.code !== "ok")
        return { code: combined.code, low: null, high: null, difference, against: null };
      const against = againstLimit(combined, given.limit);
      const misread = given.free > given.total && against === "within";
      return { ...combined, difference, against: misread ? ("can't-tell" as const) : against };
    },
  }),
  defineFormula({
    id: "chloramine-ammonia",
    title: "Ammonia that chloramine sets free when its chlorine is taken off",
    source: "NH2Cl holds one N for each Cl2 of oxidizing power: 14.0067 / 70.906",
    holds: "At most: later reactions on carbon turn some into nitrogen gas.",
    example: { chloramine: 2 },
    inputs: { chloramine: chlorine("chloramine") },
    outputs: { nitrogen: result("mg/L", "ammonia, as N") },
    compute: (given) => ({ nitrogen: nitrogenOfChloramine(given.chloramine) }),
  }),
  defineFormula({
    id: "chlorine-criteria",
    title: "Chlorine that aquatic life bears: CMC and CCC",
    source: "EPA 440/5-84-030 (1985)",
    holds: "Total residual chlorine; acute an average over an hour, chronic over four days.",
    example: { water: "fresh" },
    inputs: { water: z.enum(["fresh", "salt"]).meta({ description: "kind of water" }) },
    outputs: { acute: result("mg/L", "as Cl2"), chronic: result("mg/L", "as Cl2") },
    compute: (given) => {
      const { acuteMgPerL, chronicMgPerL } = chlorineCriteria[given.water];
      return { acute: acuteMgPerL, chronic: chronicMgPerL };
    },
  }),
];
