/** A word or abbreviation of the trade, what it means, and the formulas that answer it, the nearest first. */
export interface TradeWord {
  readonly word: string;
  readonly meaning: string;
  readonly formulas: readonly string[];
}

const solids = [
  "solids-by-factor",
  "solids-as-sodium-chloride",
  "solids-as-potassium-chloride",
  "solids-as-natural-mix",
  "solids-of-ions",
  "conductivity-of-solids",
  "water-own-factor",
];
const toReference = ["natural-25", "linear-25", "pure-25"];
const criteria = ["ammonia-criteria-fresh", "ammonia-criteria-salt", "chlorine-criteria"];
const saltiness = [
  "salinity-of-conductivity",
  "salinity-of-specific-gravity",
  "salinity-of-refractive-index",
  "salinity-of-hydrometer",
  "salinity-of-grams-per-litre",
  "salt-batch",
];

/** What keepers, suppliers and laboratories type when they look for one of the formulas. */
export const tradeWords: readonly TradeWord[] = [
  { word: "TDS", meaning: "total dissolved solids", formulas: solids },
  {
    word: "EC",
    meaning: "electrical conductivity",
    formulas: [...toReference, "conductivity-of-ions", "conductivity-by-ion-factors"],
  },
  { word: "specific conductance", meaning: "conductivity at 25 °C", formulas: toReference },
  { word: "SpC", meaning: "specific conductance, conductivity at 25 °C", formulas: toReference },
  { word: "EBCT", meaning: "empty-bed contact time", formulas: ["contact-time"] },
  {
    word: "TAN",
    meaning: "total ammonia nitrogen",
    formulas: [
      "ammonia-unionised-fresh",
      "ammonia-unionised-sea",
      "ammonia-total-of-unionised-fresh",
      "ammonia-total-of-unionised-sea",
      "ammonia-criteria-fresh",
      "ammonia-criteria-salt",
      "ammonia-as-nitrogen",
    ],
  },
  {
    word: "UIA",
    meaning: "un-ionised ammonia",
    formulas: ["ammonia-unionised-fresh", "ammonia-unionised-sea"],
  },
  {
    word: "NH3",
    meaning: "un-ionised ammonia",
    formulas: ["ammonia-unionised-fresh", "ammonia-unionised-sea"],
  },
  {
    word: "TCF",
    meaning: "temperature correction factor of a membrane",
    formulas: ["membrane-temperature", "membrane-flow"],
  },
  {
    word: "ppt",
    meaning: "parts per thousand, in which the trade writes salinity",
    formulas: saltiness,
  },
  { word: "PSU", meaning: "practical salinity, which has no unit", formulas: saltiness },
  {
    word: "SG",
    meaning: "specific gravity",
    formulas: ["salinity-of-specific-gravity", "salinity-of-hydrometer", "specific-gravity"],
  },
  {
    word: "refractometer",
    meaning: "reads salinity by the index of refraction, degrees Brix or parts per thousand of salt",
    formulas: ["salinity-of-refractive-index", "salinity-of-brix", "salinity-of-brine-refractometer"],
  },
  {
    word: "CMC",
    meaning: "criterion maximum concentration: acute, an average over an hour",
    formulas: criteria,
  },
  {
    word: "CCC",
    meaning: "criterion continuous concentration: chronic, a long average",
    formulas: criteria,
  },
  {
    word: "GH",
    meaning: "general (total) hardness",
    formulas: ["hardness", "hardness-units", "remineralisation", "water-of-salts"],
  },
  {
    word: "KH",
    meaning: "carbonate hardness, in the trade alkalinity",
    formulas: [
      "hardness-parts",
      "alkalinity-of-bicarbonate",
      "hardness-units",
      "remineralisation",
      "water-of-salts",
    ],
  },
  {
    word: "remineralization",
    meaning: "salts put back into pure water",
    formulas: ["remineralisation", "water-of-salts"],
  },
  {
    word: "RO",
    meaning: "reverse osmosis",
    formulas: ["membrane-rejection", "membrane-recovery", "membrane-flow", "net-driving-pressure"],
  },
  {
    word: "NDP",
    meaning: "net driving pressure of a membrane",
    formulas: ["net-driving-pressure", "membrane-flow"],
  },
  {
    word: "dechlorinator",
    meaning: "what takes chlorine out of water: thiosulfate, sulfite, ascorbic acid",
    formulas: ["dechlorinator-dose", "dechlorinator-of-label"],
  },
  {
    word: "dip chart",
    meaning: "strapping table: litres at each depth",
    formulas: ["drum-upright-cylinder", "drum-lying-cylinder", "drum-cone", "drum-box", "strapping-volume"],
  },
  { word: "DI", meaning: "deionisation by resin", formulas: ["resin-life", "resin-load", "pure-25"] },
  {
    word: "ARL",
    meaning: "average run length: values until a chart signals",
    formulas: [
      "cusum-run-length",
      "ewma-run-length",
      "cusum-run-length-siegmund",
      "cusum-drift-run-length",
      "ewma-drift-run-length",
    ],
  },
  { word: "RPD", meaning: "relative percent difference of duplicates", formulas: ["percent-difference"] },
  { word: "RTD", meaning: "platinum temperature sensor", formulas: ["platinum-temperature"] },
];
