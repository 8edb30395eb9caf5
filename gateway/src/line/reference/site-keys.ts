import type { KeyTexts } from "./key-text.ts";

/** Keys of this part of the file, each with its text. */
export const siteKeys: KeyTexts = [
  ["drumlin", { what: "The version of this file's form.", example: "drumlin: 1" }],
  [
    "site",
    { what: "The site's short name. One data folder belongs to one site.", example: "site: saltmarsh-house" },
  ],
  [
    "title",
    {
      what: "What pages and messages call the site.",
      otherwise: "made from the name",
      example: "title: Saltmarsh House",
    },
  ],
  [
    "timezone",
    {
      what: "The zone of all times that are shown, as in the IANA list.",
      otherwise: "the machine's",
      example: "timezone: Europe/Lisbon",
    },
  ],
  [
    "night",
    {
      what: "The hours that the night report covers; it carries the date of its evening.",
      otherwise: "21:00 to 07:00",
      example: 'night: { from: "21:00", to: "07:00" }',
    },
  ],
  ["night.from", { what: "When the night begins, in the site's zone.", example: 'from: "21:00"' }],
  ["night.to", { what: "When it ends.", example: 'to: "07:00"' }],
  [
    "currency",
    { what: "The currency of prices, by its three letters.", otherwise: "EUR", example: "currency: EUR" },
  ],
  [
    "solids",
    {
      what: "How dissolved solids are estimated from conductivity at 25 °C: mg/L for each uS/cm, or the table of sodium chloride.",
      otherwise: "0.64",
      example: "solids: 0.5",
    },
  ],
  ["supply", { what: "What is known of the tap water.", example: "supply: { disinfectant: chloramine }" }],
  [
    "supply.disinfectant",
    {
      what: "What the water company adds. Unknown is treated as chloramine, the harder one to remove.",
      example: "disinfectant: chlorine",
    },
  ],
];

/** Keys of this part of the file, each with its text. */
export const pointsKeys: KeyTexts = [
  [
    "points",
    {
      what: "Where water can be sampled or measured: the supply, and behind each stage. Name by name.",
      example: "points: { supply: { conductivity: press/ec-1 } }",
    },
  ],
  [
    "points.*.title",
    {
      what: "What pages call the point.",
      otherwise: "made from the name",
      example: "title: Behind the resin",
    },
  ],
  [
    "points.*.conductivity",
    {
      what: "The probe of conductivity, or of solids where it reports those.",
      example: "conductivity: press/ec-2",
    },
  ],
  [
    "points.*.temperature",
    {
      what: "The thermometer at the point. Without one, the nearest in the same water is borrowed.",
      example: "temperature: press/t-1",
    },
  ],
  [
    "points.*.pressure",
    { what: "The pressure gauge at the point, relative to the room.", example: "pressure: press/p-1" },
  ],
  [
    "points.*.level",
    { what: "A height of water at the point; for a drum name it there.", example: "level: press/l-1" },
  ],
  ["points.*.flow", { what: "The meter of the water that passes the point.", example: "flow: press/f-1" }],
  [
    "points.*.limit",
    {
      what: "Conductivity at 25 °C above which the water here counts as bad: limit of resin-breakthrough or membrane-passing.",
      unit: "uS/cm, mS/cm, S/m",
      otherwise:
        "5 uS/cm behind resin (ASTM D1193 type IV, ISO 3696 grade 3), a tenth of the feed behind a membrane alone, else none",
      example: "limit: 10 uS/cm",
    },
  ],
];
