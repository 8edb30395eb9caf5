import { z } from "zod";
import { requireInRange } from "../../quantities/index.ts";
import {
  ammoniaOfNitrogen,
  ammoniaPhRange,
  ammoniaPkaFresh,
  ammoniaPkaSea,
  ammoniaTablesEndC,
  nitrogenOfAmmonia,
  seaAmmoniaRange,
  unionisedShare,
} from "../ammonia.ts";
import { freshAmmoniaCriteria, saltAmmoniaCriteria } from "../ammonia-criteria.ts";
import { about } from "./about.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const pH = quantity("[pH]", ammoniaPhRange.min, ammoniaPhRange.max, "pH (NBS scale)");
const temperature = quantity("Cel", 0, 30, "water temperature");
const warmTemperature = quantity("Cel", 0, 40, "water temperature");
const aboveTables = z
  .boolean()
  .meta({ description: "above 30 °C, where published tables end: by the measured constants alone" });
const salinity = quantity(
  "{PSU}",
  seaAmmoniaRange.salinity.min,
  seaAmmoniaRange.salinity.max,
  "practical salinity",
);
const total = quantity("mg/L", 0, 1000, "total ammonia, as N; left out: the share alone").optional();
const unionised = {
  share: result("1", "un-ionised share of total ammonia"),
  percent: result("%", "the same in percent"),
  pKa: result("1", "of ammonium"),
  nitrogen: result("mg/L", "un-ionised ammonia, as N").optional(),
  ammonia: result("mg/L", "un-ionised ammonia, as NH3").optional(),
  aboveTables,
};
const borne = quantity("mg/L", 0, 1000, "un-ionised ammonia, as N");
const criteria = {
  acute: result("mg/L", "total ammonia as N, average over an hour"),
  chronic: result("mg/L", "total ammonia as N, long average"),
};

interface Sample {
  readonly pH: number;
  readonly temperature: number;
}

function split(pKa: number, given: Sample & { readonly total?: number | undefined }) {
  const share = unionisedShare(pKa, given.pH);
  const shares = { share, percent: 100 * share, pKa, ...warmth(given) };
  if (given.total === undefined) return shares;
  const nitrogen = share * given.total;
  return { ...shares, nitrogen, ammonia: ammoniaOfNitrogen(nitrogen) };
}

function totalOf(pKa: number, given: Sample & { readonly unionised: number }) {
  const total = given.unionised / unionisedShare(pKa, given.pH);
  const hint = "At this pH hardly any ammonia is un-ionised: such a limit binds nothing.";
  about("pH, unionised", () => requireInRange("total ammonia", total, 0, maxTotalMgPerL, "mg/L", hint));
  return { total, ...warmth(given) };
}

/** More ammonia than any water of animals holds, mg/L as N (our own choice). */
const maxTotalMgPerL = 100_000;
const warmth = (given: Sample) => ({ aboveTables: given.temperature > ammoniaTablesEndC });

/** Un-ionised ammonia and what aquatic life bears of ammonia. */
export const ammoniaFormulas = [
  defineFormula({
    id: "ammonia-unionised-fresh",
    title: "Un-ionised ammonia (NH3) in fresh water, of the total (TAN)",
    source: "Emerson et al., J. Fish. Res. Board Can. 32 (1975) 2379",
    holds:
      "Fresh water of little salt, 0 to 40 °C, flagged above 30 °C. Published tables differ by 2 % of the share.",
    example: { pH: 7.8, temperature: "26 C", total: 0.5 },
    inputs: { pH, temperature: warmTemperature, total },
    outputs: unionised,
    compute: (given) => split(ammoniaPkaFresh(given.temperature), given),
  }),
  defineFormula({
    id: "ammonia-unionised-sea",
    title: "Un-ionised ammonia (NH3) in salt water, of the total (TAN)",
    source:
      "Khoo, Culberson and Bates, J. Solution Chem. 6 (1977) 281, with Emerson et al. (1975) for pure water",
    holds:
      "Salinity 0 to 45, 0 to 40 °C, flagged above 30 °C; pH by NBS buffers, as probes and strips give it. Within 1.4 % of the share of Bower and Bidwell (1978), 5 % of Clegg and Whitfield (1995); not measured under 5 °C. An error of 0.1 in pH makes 26 %.",
    example: { pH: 8.2, temperature: 25, salinity: "35 ppt", total: 0.5 },
    inputs: { pH, temperature: warmTemperature, salinity, total },
    outputs: unionised,
    compute: (given) => split(ammoniaPkaSea(given.temperature, given.salinity), given),
  }),
  defineFormula({
    id: "ammonia-total-of-unionised-fresh",
    title: "Total ammonia (TAN) that holds so much un-ionised ammonia, in fresh water",
    source: "Emerson et al., J. Fish. Res. Board Can. 32 (1975) 2379, solved for the other side",
    holds: "As ammonia-unionised-fresh.",
    example: { pH: 7.8, temperature: 26, unionised: 0.02 },
    inputs: { pH, temperature: warmTemperature, unionised: borne },
    outputs: { total: result("mg/L", "total ammonia, as N"), aboveTables },
    compute: (given) => totalOf(ammoniaPkaFresh(given.temperature), given),
  }),
  defineFormula({
    id: "ammonia-total-of-unionised-sea",
    title: "Total ammonia (TAN) that holds so much un-ionised ammonia, in salt water",
    source:
      "Khoo, Culberson and Bates, J. Solution Chem. 6 (1977) 281, with Emerson et al. (1975), solved for the other side",
    holds: "As ammonia-unionised-sea.",
    example: { pH: 8.2, temperature: 25, salinity: "35 ppt", unionised: 0.02 },
    inputs: { pH, temperature: warmTemperature, salinity, unionised: borne },
    outputs: { total: result("mg/L", "total ammonia, as N"), aboveTables },
    compute: (given) => totalOf(ammoniaPkaSea(given.temperature, given.salinity), given),
  }),
  defineFormula({
    id: "ammonia-as-nitrogen",
    title: "Ammonia (NH3) stated as nitrogen",
    source: "standard atomic weights (IUPAC, abridged): N 14.0067, H 1.00794",
    holds: "Any concentration.",
    example: { ammonia: 1 },
    inputs: { ammonia: quantity("mg/L", 0, 10_000, "as NH3") },
    outputs: { nitrogen: result("mg/L", "as N") },
    compute: (given) => ({ nitrogen: nitrogenOfAmmonia(given.ammonia) }),
  }),
  defineFormula({
    id: "ammonia-criteria-fresh",
    title: "Total ammonia (TAN) that aquatic life in fresh water bears: CMC and CCC",
    source: "EPA 822-R-13-001 (2013), 78 FR 52192",
    holds: "pH 6.5 to 9, 0 to 30 °C. Acute: an hour; chronic: 30 days, no four days above 2.5 times it.",
    example: { pH: 7, temperature: 20 },
    inputs: {
      pH: quantity("[pH]", 6.5, 9, "pH"),
      temperature,
      trout: z.boolean().default(true).meta({ description: "salmon and trout (Oncorhynchus) are there" }),
    },
    outputs: { ...criteria, fourDays: result("mg/L", "as N, highest average of four days") },
    compute: (given) => {
      const found = freshAmmoniaCriteria(given.pH, given.temperature, given.trout);
      return {
        acute: found.acuteMgNPerL,
        chronic: found.chronicMgNPerL,
        fourDays: 2.5 * found.chronicMgNPerL,
      };
    },
  }),
  defineFormula({
    id: "ammonia-criteria-salt",
    title: "Total ammonia (TAN) that aquatic life in salt water bears: CMC and CCC",
    source: "EPA 440/5-88-004 (1989): un-ionised 0.233 mg/L (an hour) and 0.035 mg/L (four days) as NH3",
    holds:
      "pH 7 to 9, 0 to 35 °C, salinity 5 to 40. Totals as the document has them, by a pKa of its own (from memory) that is 0.02 lower than ammonia-unionised-sea's at 25 °C, 0.06 at 0 °C; un-ionised by ammonia-unionised-sea, so that both ways of comparing give one verdict.",
    example: { pH: 8, temperature: 25, salinity: 30 },
    inputs: {
      pH: quantity("[pH]", 7, 9, "pH"),
      temperature: quantity("Cel", 0, 35, "water temperature"),
      salinity: quantity("{PSU}", 5, 40, "practical salinity"),
    },
    outputs: {
      ...criteria,
      acuteUnionised: result("mg/L", "un-ionised in the acute total, as NH3, by ammonia-unionised-sea"),
      chronicUnionised: result("mg/L", "un-ionised in the chronic total, as NH3"),
    },
    compute: (given) => {
      const found = saltAmmoniaCriteria(given.pH, given.temperature, given.salinity);
      return {
        acute: found.acuteMgNPerL,
        chronic: found.chronicMgNPerL,
        acuteUnionised: found.acuteUnionisedMgPerL,
        chronicUnionised: found.chronicUnionisedMgPerL,
      };
    },
  }),
];
