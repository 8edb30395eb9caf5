import {
  drivingPressure,
  osmoticPressureOfIons,
  osmoticPressureOfMolality,
  osmoticPressureOfSolids,
} from "../osmotic-pressure.ts";
import { about } from "./about.ts";
import { allIons, amountsOf, analysisInputs } from "./analysis-inputs.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const temperature = quantity("Cel", 0, 45, "water temperature");
const pressure = result("kPa", "osmotic pressure");
const pitzer = "Pitzer and Mayorga, J. Phys. Chem. 77 (1973) 2300";
const asSalt =
  "Solids as NaCl. The same mg/L of natural water's heavier ions pulls less: 55 to 70 kPa per 1,000 mg/L.";
const kPa = (text: string) => quantity("kPa", 0, 10_000, text);

/** Osmotic pressure, and what is left to drive water through a membrane. */
export const osmosisFormulas = [
  defineFormula({
    id: "osmotic-pressure",
    title: "Osmotic pressure of water with dissolved solids (TDS) stated as NaCl",
    source: `van 't Hoff with the osmotic coefficient of NaCl: ${pitzer}`,
    holds: `${asSalt} 0 to 45 °C, where the coefficient of 25 °C is taken: 1 %.`,
    example: { solids: 600, temperature: 15 },
    inputs: { solids: quantity("mg/L", 0, 100_000, "dissolved solids, as NaCl"), temperature },
    outputs: { pressure },
    compute: (given) => ({ pressure: osmoticPressureOfSolids(given.solids, given.temperature) }),
  }),
  defineFormula({
    id: "osmotic-pressure-of-sodium-chloride",
    title: "Osmotic pressure of sodium chloride of a molality",
    source: `van 't Hoff with the osmotic coefficient of NaCl: ${pitzer}`,
    holds: "0 to 2 mol/kg, 0 to 45 °C, where the coefficient of 25 °C is taken: 1 %.",
    example: { molality: 0.1, temperature: 25 },
    inputs: { molality: quantity("mol/kg", 0, 2, "sodium chloride in a kg of water"), temperature },
    outputs: { pressure },
    compute: (given) => ({ pressure: osmoticPressureOfMolality(given.molality, given.temperature) }),
  }),
  defineFormula({
    id: "osmotic-pressure-of-ions",
    title: "Osmotic pressure of an ion analysis",
    source: "membrane makers' design guides: 1.12 psi (273 + T) times the sum of mol/L",
    holds: "Ionic strength to 0.7 mol/L; an osmotic coefficient of 0.93 is in it, ion pairs are not.",
    example: {
      calcium: 80,
      magnesium: 10,
      sodium: 20,
      bicarbonate: 230,
      chloride: 40,
      sulfate: 45,
      temperature: 15,
    },
    inputs: { ...analysisInputs, temperature },
    outputs: { pressure },
    compute: (given) => ({
      pressure: about(allIons, () => osmoticPressureOfIons(amountsOf(given, undefined), given.temperature)),
    }),
  }),
  defineFormula({
    id: "net-driving-pressure",
    title: "Net driving pressure (NDP) of a reverse-osmosis membrane",
    source: `ASTM D4516, standardizing reverse osmosis performance data; osmotic pressure by ${pitzer}`,
    holds: `${asSalt} Steady running. On house pressure little is left: a tank's back pressure counts in full.`,
    example: {
      feed: "3.5 bar",
      drop: "0.2 bar",
      solids: 450,
      recovery: 0.25,
      rejection: 0.95,
      temperature: 15,
    },
    inputs: {
      feed: kPa("feed pressure"),
      drop: kPa("feed less reject pressure").default(0),
      permeatePressure: kPa("permeate pressure").default(0),
      solids: quantity("mg/L", 0, 50_000, "dissolved solids of the feed, as NaCl"),
      recovery: quantity("1", 0.001, 0.9, "share of the feed that becomes permeate"),
      rejection: quantity("1", 0, 1, "share of the salt held back").default(0.95),
      temperature,
    },
    outputs: {
      netPressure: result("kPa", "net driving pressure"),
      osmoticFeed: result("kPa", "osmotic pressure of the mean feed along the membrane"),
      osmoticReject: result("kPa", "of the reject"),
      osmoticPermeate: result("kPa", "of the permeate"),
    },
    compute: (given) => {
      const found = about("feed, drop, permeatePressure, solids, recovery", () =>
        drivingPressure({
          feedKPa: given.feed,
          dropKPa: given.drop,
          permeateKPa: given.permeatePressure,
          solidsMgPerL: given.solids,
          recovery: given.recovery,
          rejection: given.rejection,
          tC: given.temperature,
        }),
      );
      return {
        netPressure: found.netKPa,
        osmoticFeed: found.osmoticFeedKPa,
        osmoticReject: found.osmoticRejectKPa,
        osmoticPermeate: found.osmoticPermeateKPa,
      };
    },
  }),
];
