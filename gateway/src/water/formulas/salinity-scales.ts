import {
  refractiveIndexOfBrix,
  salinityOfBrineScale,
  salinityOfBrix,
  salinityOfRefractiveIndex,
  seaRefractiveIndex,
} from "../refraction.ts";
import {
  gramsPerLitreOfSalinity,
  hydrometerGlassPerC,
  hydrometerReading,
  salinityOfGramsPerLitre,
  salinityOfHydrometer,
} from "../salt-by-volume.ts";
import { seaDensityKgPerM3 } from "../sea-density.ts";
import { defineFormula, quantity, result } from "./formula.ts";

const eos80 = "EOS-80: UNESCO Technical Papers in Marine Science 44 (1983)";
const byMass = `${eos80}; sea salt per unit of salinity: Millero et al., Deep-Sea Res. I 55 (2008) 50`;
const quanFry = "Quan and Fry, Appl. Opt. 34 (1995) 3477";
const tC = (text: string) => quantity("Cel", -2, 40, text);
const opticC = quantity(
  "Cel",
  0,
  30,
  "temperature of the water on the prism; 20 where the scale is compensated (ATC)",
);
const salinity = quantity("{PSU}", 0, 42, "practical salinity");
const toSalinity = { salinity: result("{PSU}", "practical salinity") };
const calibrate =
  "Set the refractometer with a standard of sea water, not with pure water alone. 0.0002 of the index is 1 of salinity.";
const instrument = {
  glass: tC("temperature at which the glass was calibrated; on the instrument"),
  reference: tC(
    "temperature of the pure water that reads 1.000; left out: that of the glass; 4 for g/mL",
  ).optional(),
  expansion: quantity("/Cel", 0, 3e-4, "cubic expansion: 0.000025 glass, 0.0002 plastic").default(
    hydrometerGlassPerC,
  ),
};

interface GivenInstrument {
  readonly glass: number;
  readonly reference?: number | undefined;
  readonly expansion: number;
}

const madeOf = (given: GivenInstrument) => ({
  glassTC: given.glass,
  referenceTC: given.reference ?? given.glass,
  expansionPerC: given.expansion,
});

/** Salinity by refractometer, by hydrometer, and by weight of salt in a litre. */
export const salinityScaleFormulas = [
  defineFormula({
    id: "salinity-of-grams-per-litre",
    title: "Practical salinity from grams of sea salt in a litre (g/L)",
    source: `${byMass}, solved for the other side`,
    holds:
      "Dry salt in a litre of the finished water. 35 g/L are 34.1 at 25 °C: g/L is not ppt. Salt as sold holds some water.",
    example: { salt: "36 g/L", temperature: 25 },
    inputs: {
      salt: quantity("g/L", 0, 50, "dry sea salt in a litre of finished water"),
      temperature: tC("its temperature"),
    },
    outputs: { ...toSalinity, byMass: result("g/kg", "the same by mass: absolute salinity") },
    compute: (given) => {
      const found = salinityOfGramsPerLitre(given.salt, given.temperature);
      return { salinity: found, byMass: (found * 35.16504) / 35 };
    },
  }),
  defineFormula({
    id: "grams-per-litre-of-salinity",
    title: "Grams of sea salt in a litre (g/L) of a practical salinity",
    source: byMass,
    holds: "Dry salt. For a whole batch with the water to take: salt-batch.",
    example: { salinity: "35 ppt", temperature: 25 },
    inputs: { salinity, temperature: tC("water temperature") },
    outputs: { salt: result("g/L", "dry sea salt in a litre of the finished water") },
    compute: (given) => ({ salt: gramsPerLitreOfSalinity(given.salinity, given.temperature) }),
  }),
  defineFormula({
    id: "refractive-index-of-sea-water",
    title: "Refractive index of fresh to sea water",
    source: quanFry,
    holds: "Fitted at salinity 0 to 35, 0 to 30 °C, 400 to 700 nm; straight on to 42.",
    example: { salinity: 35, temperature: 20 },
    inputs: {
      salinity,
      temperature: quantity("Cel", 0, 30, "water temperature"),
      wavelength: quantity("nm", 400, 700, "wavelength in air; sodium light where left out").default(589.3),
    },
    outputs: { index: result("1", "refractive index against air") },
    compute: (given) => ({ index: seaRefractiveIndex(given.salinity, given.temperature, given.wavelength) }),
  }),
  defineFormula({
    id: "salinity-of-refractive-index",
    title: "Practical salinity from a refractometer's index (nD)",
    source: `${quanFry}, solved for the other side`,
    holds: `Index as read at the water's temperature; a compensated scale (ATC) stands for 20 °C. ${calibrate}`,
    example: { index: 1.3394, temperature: 20 },
    inputs: {
      index: quantity("1", 1.32, 1.36, "refractive index in sodium light"),
      temperature: opticC,
    },
    outputs: toSalinity,
    compute: (given) => ({ salinity: salinityOfRefractiveIndex(given.index, given.temperature) }),
  }),
  defineFormula({
    id: "salinity-of-brix",
    title: "Practical salinity from a refractometer's degrees Brix (°Bx)",
    source: `ICUMSA SPS-3 (2000), refractive index of sucrose at 20 °C; ${quanFry}`,
    holds: `A scale of sugar, compensated to 20 °C. A step of 0.2 °Bx is 1.6 of salinity. ${calibrate}`,
    example: { brix: 4.4 },
    inputs: { brix: quantity("1", 0, 5.2, "degrees Brix") },
    outputs: { ...toSalinity, index: result("1", "refractive index at 20 °C") },
    compute: (given) => {
      const index = refractiveIndexOfBrix(given.brix);
      return { salinity: salinityOfBrix(given.brix), index };
    },
  }),
  defineFormula({
    id: "salinity-of-brine-refractometer",
    title: "Practical salinity from a refractometer whose ppt are of sodium chloride",
    source:
      "CRC Handbook of Chemistry and Physics, 57th ed., D-252: 3.65 % NaCl has the index of sea water of 35",
    holds: `Cheap scales are of table salt (NaCl, ppt by mass) and show sea water of 35 as 36.5. ${calibrate}`,
    example: { reading: 36.5 },
    inputs: { reading: quantity("1", 0, 43.8, "parts per thousand of sodium chloride") },
    outputs: toSalinity,
    compute: (given) => ({ salinity: salinityOfBrineScale(given.reading) }),
  }),
  defineFormula({
    id: "salinity-of-hydrometer",
    title: "Practical salinity from a hydrometer, with its own temperatures",
    source: `${eos80}, solved for the other side; expansion of glass: NBS Circular 555 (1954), from memory`,
    holds:
      "Temperatures of glass and scale stand on the instrument (60/60 °F is 15.56/15.56 °C). 0.001 is 1.3 of salinity. Bubbles and dried salt lift it.",
    example: { reading: 1.0244, temperature: "86 F", glass: "77 F" },
    inputs: {
      reading: quantity("1", 0.98, 1.05, "what it reads"),
      temperature: tC("water temperature"),
      ...instrument,
    },
    outputs: { ...toSalinity, density: result("kg/m3", "density of the water") },
    compute: (given) => {
      const found = salinityOfHydrometer(given.reading, given.temperature, madeOf(given));
      return { salinity: found, density: seaDensityKgPerM3(found, given.temperature) };
    },
  }),
  defineFormula({
    id: "hydrometer-reading",
    title: "What a hydrometer reads in water of a salinity",
    source: `${eos80}; expansion of glass: NBS Circular 555 (1954), from memory`,
    holds: "As salinity-of-hydrometer: the reading to mix to.",
    example: { salinity: 35, temperature: 24, glass: 25 },
    inputs: { salinity, temperature: tC("water temperature"), ...instrument },
    outputs: { reading: result("1", "reading") },
    compute: (given) => ({
      reading: hydrometerReading(given.salinity, given.temperature, madeOf(given)),
    }),
  }),
];
