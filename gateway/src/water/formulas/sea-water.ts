import { waterDensityGPerCm3 } from "../pure-compensation.ts";
import { kappaOfSalinity, practicalSalinity, salinityRange } from "../salinity.ts";
import { seaDensityKgPerM3 } from "../sea-density.ts";
import { defineFormula, quantity, result } from "./formula.ts";
import { InputRefused } from "./refused.ts";

const { salinityMin, salinityMax, tMinC, tMaxC } = salinityRange;
const salinity = quantity("{PSU}", salinityMin, salinityMax, "practical salinity");
const temperature = quantity("Cel", tMinC, tMaxC, "water temperature, ITS-90");
const scale = "PSS-78 (UNESCO Technical Papers in Marine Science 44, 1983); below 2 Hill et al. (1986)";

/** Salinity and density. */
export const seaWaterFormulas = [
  defineFormula({
    id: "salinity-of-conductivity",
    title: "Practical salinity (PSU, ppt) from conductivity",
    source: scale,
    holds: "Salinity 0 to 42, -2 to 35 °C.",
    example: { kappa: "53.07 mS/cm", temperature: 25 },
    inputs: {
      kappa: quantity("uS/cm", 0, 1e6, "conductivity at the water's temperature"),
      temperature,
      pressure: quantity("dbar", 0, 10_000, "pressure above the air's").default(0),
    },
    outputs: { salinity: result("{PSU}", "practical salinity") },
    compute: (given) => {
      if (given.kappa === 0) return { salinity: 0 };
      const found = practicalSalinity(given.kappa, given.temperature, given.pressure);
      if (found !== null) return { salinity: found };
      throw new InputRefused(
        "out-of-range",
        `kappa is ${given.kappa} uS/cm: more than water of salinity ${salinityMax} conducts at ${given.temperature} Cel.`,
      );
    },
  }),
  defineFormula({
    id: "conductivity-of-salinity",
    title: "Conductivity from practical salinity (PSU, ppt)",
    source: `${scale}, solved for the other side`,
    holds: "Salinity 0 to 42, -2 to 35 °C, at the surface.",
    example: { salinity: 35, temperature: 25 },
    inputs: { salinity, temperature },
    outputs: { kappa: result("uS/cm", "conductivity at the water's temperature") },
    compute: (given) => ({ kappa: kappaOfSalinity(given.salinity, given.temperature) }),
  }),
  defineFormula({
    id: "sea-water-density",
    title: "Density of fresh to sea water at the surface",
    source: "EOS-80 (UNESCO Technical Papers in Marine Science 44, 1983)",
    holds: "Salinity 0 to 42, -2 to 40 °C.",
    example: { salinity: 35, temperature: 25 },
    inputs: { salinity, temperature: quantity("Cel", -2, 40, "water temperature, ITS-90") },
    outputs: { density: result("kg/m3", "density") },
    compute: (given) => ({ density: seaDensityKgPerM3(given.salinity, given.temperature) }),
  }),
  defineFormula({
    id: "water-density",
    title: "Density of water without salt, at 1 atm",
    source: "Kell, J. Chem. Eng. Data 20 (1975) 97",
    holds: "0 to 100 °C.",
    example: { temperature: 25 },
    inputs: { temperature: quantity("Cel", 0, 100, "water temperature") },
    outputs: { density: result("g/cm3", "density") },
    compute: (given) => ({ density: waterDensityGPerCm3(given.temperature) }),
  }),
];
