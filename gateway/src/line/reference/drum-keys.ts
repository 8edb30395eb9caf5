import type { KeyTexts } from "./key-text.ts";

const volume = "L, mL, m3, us gal, imp gal; the unit must be written";
const flow = "L/min, L/h, gal/min";
const litresInDrum = "litres in the drum; L, us gal, imp gal";

/** Keys of this part of the file, each with its text. */
export const drumsKeys: KeyTexts = [
  [
    "drums",
    {
      what: "The vessels that are filled, by name.",
      example: "drums: { fresh: { volume: 200 L, fed_by: after-carbon, stop: drums/float-1 } }",
    },
  ],
  [
    "drums.*.title",
    { what: "What pages call the drum.", otherwise: "made from the name", example: "title: Mixing drum" },
  ],
  [
    "drums.*.volume",
    {
      what: "What it holds to the brim, not what you fill it with.",
      unit: volume,
      example: "volume: 200 L",
    },
  ],
  ["drums.*.fed_by", { what: "The point from which it is filled.", example: "fed_by: after-resin" }],
  [
    "drums.*.control",
    {
      what: "Whether it fills by itself when its stop float is dry, or when a person opens a valve.",
      example: "control: manual",
    },
  ],
  [
    "drums.*.feeds",
    {
      what: "Whether animals get its water by hand or by themselves; by themselves makes bad water more urgent.",
      example: "feeds: automatic",
    },
  ],
  ["drums.*.holds", { what: "Fresh water, or salt water mixed in it.", example: "holds: salt" }],
  [
    "drums.*.stop",
    { what: "The float that stops the fill: short for floats.stop.", example: "stop: drums/float-1" },
  ],
  [
    "drums.*.floats",
    {
      what: "All floats of the drum, by what they do.",
      example: "floats: { stop: drums/float-1, overflow: room/float-9 }",
    },
  ],
  [
    "drums.*.floats.stop",
    { what: "The float that stops the fill.", example: "stop: { channel: drums/float-1, trips_at: 170 L }" },
  ],
  [
    "drums.*.floats.start",
    { what: "The float that starts a fill, where it is another one.", example: "start: drums/float-2" },
  ],
  [
    "drums.*.floats.overflow",
    {
      what: "The float above the stop float. Wire it to another node: it is there for when the first one fails.",
      example: "overflow: room/float-9",
    },
  ],
  [
    "drums.*.floats.low",
    { what: "The float that shows that the drum is nearly empty.", example: "low: drums/float-4" },
  ],
  [
    "drums.*.level",
    {
      what: "The drum's own level, with the table that turns heights into litres.",
      example: 'level: { channel: drums/l-1, strapping: { "0 m": "0 L", "0.75 m": "200 L" } }',
    },
  ],
  ["drums.*.level.channel", { what: "The channel that reports it.", example: "channel: drums/l-1" }],
  [
    "drums.*.level.as",
    {
      what: "What the channel reports: depth of the water, distance from a sensor above down to it, pressure at the bottom, or litres.",
      example: "as: distance",
    },
  ],
  [
    "drums.*.level.strapping",
    {
      what: "Heights (or distances, or metres of water) and the litres that belong to them, from the bottom up; two rows at least.",
      unit: "m, cm, mm, in against L, us gal, imp gal",
      example: 'strapping: { "0 m": "0 L", "0.75 m": "200 L" }',
    },
  ],
  [
    "drums.*.inlet",
    { what: "The contact of the valve that lets water in.", example: "inlet: { channel: drums/valve-1 }" },
  ],
  ["drums.*.inlet.channel", { what: "The channel that reports it.", example: "channel: drums/valve-1" }],
  [
    "drums.*.inlet.open",
    {
      what: "What the contact reports while the valve is open: true for 1, false for 0.",
      example: "open: false",
    },
  ],
  ["drums.*.flow", { what: "A meter that counts this drum's water alone.", example: "flow: drums/f-1" }],
  ["drums.*.conductivity", { what: "A probe in the drum.", example: "conductivity: drums/ec-3" }],
  ["drums.*.temperature", { what: "A thermometer in the drum.", example: "temperature: drums/t-2" }],
  [
    "drums.*.greatest_flow",
    {
      what: "The fastest that water can come in: it lets an overflow be foreseen, and bounds the water that nobody saw.",
      unit: flow,
      otherwise: "learned from fills",
      example: "greatest_flow: 4 L/min",
    },
  ],
  [
    "drums.*.target",
    { what: "What you want its water to be.", example: "target: { salinity: 33, temperature: 24 Cel }" },
  ],
  [
    "drums.*.target.conductivity",
    {
      what: "Greatest conductivity at 25 °C of good water in the drum.",
      unit: "uS/cm, mS/cm",
      otherwise: "10 uS/cm behind resin",
      example: "conductivity: 20 uS/cm",
    },
  ],
  [
    "drums.*.target.salinity",
    { what: "Practical salinity of mixed water; not specific gravity.", example: "salinity: 33" },
  ],
  [
    "drums.*.target.temperature",
    { what: "Temperature you want.", unit: "Cel, °C, °F", example: "temperature: 24 Cel" },
  ],
];

/** Settings of a channel that is written as `{ channel: … }`. */
export const settingsKeys: KeyTexts = [
  ["channel.channel", { what: "The channel's name.", example: "channel: press/ec-1" }],
  [
    "channel.scale",
    {
      what: "Multiplies what the node reports, after its unit is read.",
      otherwise: "1",
      example: "scale: 0.98",
    },
  ],
  [
    "channel.resolution",
    {
      what: "The smallest step of the probe.",
      unit: "the quantity's own",
      otherwise: "unknown: then exact zeros prove nothing",
      example: "resolution: 0.1 uS/cm",
    },
  ],
  [
    "channel.range",
    {
      what: "What the probe can measure; beyond it a reading fails.",
      otherwise: "wider than any probe of a line",
      example: "range: { min: 0, max: 2000 }",
    },
  ],
  ["channel.range.min", { what: "The lowest value, in the quantity's own unit.", example: "min: 0" }],
  ["channel.range.max", { what: "The highest.", example: "max: 2000" }],
  [
    "channel.min_flow",
    {
      what: "Of a meter: the flow under which its wheel stands still. What runs slower is not seen by it.",
      unit: flow,
      otherwise: "0.5 L/min, typical, not yours",
      example: "min_flow: 0.3 L/min",
    },
  ],
  [
    "channel.taps",
    {
      what: "Of a meter: whether taps hang behind it. Without any, water that runs past it while every float is wet is a failed stop.",
      otherwise: "not known: such water is told, and wakes nobody",
      example: "taps: false",
    },
  ],
  [
    "channel.at25",
    {
      what: "True where the probe reports conductivity at 25 °C already, so that it is not compensated again.",
      otherwise: "false",
      example: "at25: true",
    },
  ],
  [
    "channel.compensation",
    {
      what: "How conductivity is brought to 25 °C: natural water, pure water, a straight line, not at all.",
      otherwise: "pure behind resin or membrane, else natural",
      example: "compensation: linear",
    },
  ],
  [
    "channel.alpha",
    { what: "Of a straight line: share per °C.", otherwise: "0.0191 (ISO 7888)", example: "alpha: 0.02" },
  ],
  [
    "channel.solids",
    {
      what: "The channel reports solids: its scale, mg/L for each uS/cm, or the table of sodium chloride.",
      example: "solids: 0.5",
    },
  ],
  [
    "channel.wet",
    {
      what: "What the contact reports when water is there: true for 1 (closed), false for 0.",
      otherwise: "floors true; floats unknown, and learned by a proof test",
      example: "wet: false",
    },
  ],
  [
    "channel.supervised",
    {
      what: "The contact hangs in a supervised loop (EN 60947-5-6): the node sends its current in A, and a broken or shorted wire is reported.",
      otherwise: "false",
      example: "supervised: true",
    },
  ],
  [
    "channel.trips_at",
    {
      what: "Where the float changes as the water rises.",
      unit: litresInDrum,
      otherwise: "learned",
      example: "trips_at: 170 L",
    },
  ],
  [
    "channel.releases_at",
    {
      what: "Where it changes back as the water falls.",
      unit: litresInDrum,
      otherwise: "learned",
      example: "releases_at: 150 L",
    },
  ],
];
