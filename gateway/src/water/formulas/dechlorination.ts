import { z } from "zod";
import {
  dechlorinatorGrams,
  dechlorinatorOfLabel,
  dechlorinatorPerMg,
  dechlorinators,
} from "../dechlorination.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const volume = quantity("L", 0.001, 1_000_000, "water to treat");
const chlorine = quantity("mg/L", 0, 20, "total chlorine, as Cl2, by a test");
const caution =
  "Use it before any animal is in, stir, test total chlorine again. No agent takes the ammonia that chloramine leaves.";

/** Dose of what takes chlorine out of water. */
export const dechlorinationFormulas = [
  defineFormula({
    id: "dechlorinator-dose",
    title: "Dose of a dechlorinator, thiosulfate or another, by stoichiometry",
    source:
      "stoichiometry; 7.0 mg of sodium thiosulfate pentahydrate per mg of chlorine: a maker of water tests, answer TE213 (2017), as 2 S2O3 + Cl2 -> S4O6 + 2 Cl",
    holds: `${caution} Thiosulfate ends as tetrathionate at worst, which is taken; towards sulfate it would need less. Ascorbic acid is slow on chloramine.`,
    example: { volume: "200 L", chlorine: 1.2 },
    inputs: {
      volume,
      chlorine,
      agent: z
        .enum(dechlorinators)
        .default("thiosulfate-pentahydrate")
        .meta({ description: "sodium salt as bought; crystals of thiosulfate are the pentahydrate" }),
      end: z
        .enum(["tetrathionate", "sulfur", "sulfate"])
        .default("tetrathionate")
        .meta({ description: "what thiosulfate becomes: tetrathionate asks for most" }),
      reserve: quantity("1", 1, 3, "times the stoichiometric dose").default(1),
    },
    outputs: {
      dose: result("mg/L", "agent"),
      mass: result("g", "agent for the volume"),
      perChlorine: result("mg/mg", "agent per mg of chlorine"),
      ammonia: result("mg/L", "ammonia left, as N, at most: if all the chlorine were monochloramine"),
    },
    compute: (given) => {
      const perChlorine = dechlorinatorPerMg(given.agent, given.end);
      const drum = { volumeL: given.volume, chlorineMgPerL: given.chlorine };
      const mass = dechlorinatorGrams(drum, given.agent, given.end, given.reserve);
      return {
        dose: (1000 * mass) / given.volume,
        mass,
        perChlorine,
        ammonia: (given.chlorine * 14.0067) / 70.906,
      };
    },
  }),
  defineFormula({
    id: "dechlorinator-of-label",
    title: "Dose of a dechlorinator sold by its label",
    source: "the product's own label, in proportion",
    holds: `${caution} Never less than the label says; more than 3 times it is a reason to ask its maker.`,
    example: { volume: "150 L", chlorine: 2, labelAmount: 5, labelVolume: "200 L", labelChlorine: 1 },
    inputs: {
      volume,
      chlorine,
      labelAmount: quantity("1", 1e-6, 1e6, "amount on the label, mL or g"),
      labelVolume: quantity("L", 0.001, 1_000_000, "litres that it treats"),
      labelChlorine: quantity("mg/L", 0.01, 20, "chlorine up to which it does, as Cl2"),
    },
    outputs: {
      amount: result("1", "amount, in the label's unit"),
      timesLabel: result("1", "over what the label says for the volume"),
    },
    compute: (given) =>
      dechlorinatorOfLabel(
        { volumeL: given.volume, chlorineMgPerL: given.chlorine },
        { amount: given.labelAmount, volumeL: given.labelVolume, chlorineMgPerL: given.labelChlorine },
      ),
  }),
];
