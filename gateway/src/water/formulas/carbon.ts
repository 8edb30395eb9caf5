import { z } from "zod";
import { carbonLifeL, contactTimeMin, judgeCarbon, leastContactMin } from "../carbon.ts";
import { chlorineCriteria } from "../chlorine.ts";
import { dropAtFlowKPa } from "../sediment.ts";
import { about } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const supply = z.enum(["free-chlorine", "chloramine"]);

/** Carbon and sediment filters. */
export const carbonFormulas = [
  defineFormula({
    id: "contact-time",
    title: "Empty-bed contact time (EBCT) of carbon, and whether it is enough",
    source: "definition: volume over flow; 10 min for chloramine: 25 Tex. Admin. Code 117.32",
    holds: "At the greatest flow. 2 min for free chlorine is common practice, no source.",
    example: { carbon: 20, flow: 2 },
    inputs: {
      carbon: quantity("L", 0.01, 100_000, "carbon, all beds in series"),
      flow: quantity("L/min", 0.001, 100_000, "flow"),
      supply: supply.default("chloramine").meta({ description: "what the supply is disinfected with" }),
    },
    outputs: {
      time: result("min", "empty-bed contact time"),
      least: result("min", "asked for"),
      enough: z.boolean().meta({ description: "time is at least what is asked for" }),
    },
    compute: (given) => {
      const time = contactTimeMin(given.carbon, given.flow);
      const least = leastContactMin[given.supply];
      return { time, least, enough: time >= least };
    },
  }),
  defineFormula({
    id: "carbon-life",
    title: "Litres until carbon is spent, from its capacity for chlorine",
    source: "conservation of mass",
    holds:
      "Capacity learned from the last beds, or the maker's: published carbons differ tenfold for chloramine.",
    example: { capacity: 40, before: 2 },
    inputs: {
      capacity: quantity("g", 0.001, 1e9, "capacity as Cl2"),
      before: quantity("mg/L", 0.01, 100, "chlorine before the carbon, as Cl2"),
      after: quantity("mg/L", 0, 100, "after it").default(0),
    },
    outputs: { volume: result("L", "litres") },
    compute: (given) => ({ volume: carbonLifeL(given.capacity, given.before, given.after) }),
  }),
  defineFormula({
    id: "carbon-verdict",
    title: "What a chlorine test after carbon says of the water for animals",
    source: "EPA 440/5-84-030 (1985): total residual chlorine that aquatic life bears for four days",
    holds:
      "Good only where the test can see as little as the limit: below what it sees is not good. A test of free chlorine never says good, for combined chlorine passes it unseen; on chloramine it says nothing.",
    example: { supply: "chloramine", measured: "total", chlorine: 0, step: 0.02 },
    inputs: {
      supply: supply.meta({ description: "what the supply is disinfected with" }),
      measured: z.enum(["free", "total"]).meta({ description: "which chlorine the test shows" }),
      chlorine: quantity("mg/L", 0, 100, "what it shows, as Cl2; 0 where it shows nothing"),
      step: quantity("mg/L", 0.0005, 10, "the least that it can tell from nothing, its smallest step"),
      water: z
        .enum(["fresh", "salt"])
        .default("fresh")
        .meta({ description: "kind of water the animals live in" }),
      limit: quantity(
        "mg/L",
        0.0005,
        chlorineCriteria.fresh.chronicMgPerL,
        "a stricter limit of your own; left out: the criterion",
      ).optional(),
    },
    outputs: {
      verdict: z.enum(["good", "spent", "can't-tell", "says-nothing"]).meta({
        description: "spent: above the limit; can't-tell: what the test can't see may be above it",
      }),
      most: result("mg/L", "the most that the test leaves possible, as Cl2").nullable(),
      limit: result("mg/L", "the limit it was judged by, as Cl2"),
      aboveAcute: z.boolean().meta({ description: "above what aquatic life bears for an hour" }),
    },
    compute: ({ water, limit, ...test }) => {
      const found = judgeCarbon({ ...test, mgPerL: test.chlorine, stepMgPerL: test.step }, water, limit);
      const { verdict, mostMgPerL, limitMgPerL, aboveAcute } = found;
      return { verdict, most: mostMgPerL, limit: limitMgPerL, aboveAcute };
    },
  }),
  defineFormula({
    id: "sediment-drop",
    title: "Pressure drop of a sediment filter at its reference flow",
    source: "Darcy (exponent 1) to turbulent fittings (exponent 2)",
    holds:
      "Compare with the clean filter: 7 to 14 kPa clean, 140 to 200 at the end (EPA LT2 Toolbox, 8.6.1).",
    example: { drop: "6 psi", flow: 3, referenceFlow: 4 },
    inputs: {
      drop: quantity("kPa", -50, 2000, "pressure drop"),
      flow: quantity("L/min", 0.01, 100_000, "flow"),
      referenceFlow: quantity("L/min", 0.01, 100_000, "flow to compare at"),
      exponent: quantity("1", 0.5, 2, "1 for media, 2 for fittings").default(1),
    },
    outputs: {
      drop: result("kPa", "drop at the reference flow"),
      perFlow: result("kPa.min/L", "drop over flow"),
    },
    compute: (given) => ({
      drop: about("flow, referenceFlow", () =>
        dropAtFlowKPa(given.drop, given.flow, given.referenceFlow, given.exponent),
      ),
      perFlow: given.drop / given.flow,
    }),
  }),
];
