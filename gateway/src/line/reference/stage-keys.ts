import type { KeyTexts } from "./key-text.ts";

const volume = "L, mL, m3, us gal, imp gal; the unit must be written";

/** Keys of this part of the file, each with its text. */
export const stagesKeys: KeyTexts = [
  [
    "stages",
    {
      what: "What the water passes, each between two points. Stages side by side lie between the same two.",
      example: "stages: { resin: { kind: resin, from: after-carbon, to: after-resin, vessel: 8 L } }",
    },
  ],
  [
    "stages.*.title",
    {
      what: "What pages call the stage.",
      otherwise: "made from the name",
      example: "title: Mixed-bed resin",
    },
  ],
  ["stages.*.kind", { what: "What it does to the water.", example: "kind: resin" }],
  ["stages.*.from", { what: "The point where its water comes from.", example: "from: after-carbon" }],
  ["stages.*.to", { what: "The point behind it.", example: "to: after-resin" }],
  [
    "stages.*.flow",
    { what: "A meter in its outlet: it belongs to the point behind it.", example: "flow: press/f-2" },
  ],
  [
    "stages.*.vessel",
    {
      what: "What one housing holds, water and medium together: first water is judged by it.",
      unit: volume,
      otherwise: "a typical one: 1.2 L, resin 2.5 L, membrane 0.5 L",
      example: "vessel: 8 L",
    },
  ],
  ["stages.*.vessels", { what: "How many such housings.", otherwise: "1", example: "vessels: 2" }],
  [
    "stages.*.arrangement",
    {
      what: "Whether several housings stand one after the other or side by side.",
      otherwise: "series",
      example: "arrangement: parallel",
    },
  ],
  [
    "stages.*.media",
    { what: "The medium in one housing.", unit: volume, otherwise: "the vessel's", example: "media: 6 L" },
  ],
  [
    "stages.*.pipe",
    {
      what: "What the pipe from the stage to the next probe holds.",
      unit: volume,
      otherwise: "0.2 L",
      example: "pipe: 0.3 L",
    },
  ],
  [
    "stages.*.waste",
    { what: "The meter of the water that a membrane throws away.", example: "waste: press/f-3" },
  ],
];

/** Keys of this part of the file, each with its text. */
export const besidesKeys: KeyTexts = [
  [
    "pumps",
    {
      what: "Pumps whose contact is watched, by name.",
      example: "pumps: { press: { channel: press/pump } }",
    },
  ],
  ["pumps.*.channel", { what: "The channel of the contact.", example: "channel: press/pump" }],
  [
    "pumps.*.runs",
    { what: "What the contact reports while the pump runs: true for 1, false for 0.", example: "runs: true" },
  ],
  [
    "floors",
    {
      what: "Sensors on the floor, by name; a channel alone, or with what it reports when wet.",
      example: "floors: { by-the-drums: room/floor-1 }",
    },
  ],
  [
    "rooms",
    {
      what: "Rooms, cupboards and cellars whose air is measured, by name: for frost.",
      example: "rooms: { cellar: { temperature: cellar/t-1 } }",
    },
  ],
  [
    "rooms.*.title",
    {
      what: "What the room is called in alarms.",
      example: "title: Cellar",
    },
  ],
  ["rooms.*.temperature", { what: "The thermometer in it.", example: "temperature: cellar/t-1" }],
  [
    "flows",
    {
      what: "Meters by the point that they belong to, where you would rather not write them there.",
      example: "flows: { after-resin: press/f-1 }",
    },
  ],
  [
    "sounders",
    { what: "Sounders that nodes carry, by name.", example: "sounders: { hall: { channel: hall/sounder } }" },
  ],
  ["sounders.*.channel", { what: "The node and its sounder.", example: "channel: hall/sounder" }],
  [
    "buttons",
    {
      what: "Buttons that nodes carry, by name.",
      example: "buttons: { by-the-resin: { channel: press/button-1 } }",
    },
  ],
  [
    "buttons.*.work",
    {
      what: "What a press means: somebody works there for so long, or is done. It silences what the work can cause, never another drum's stop.",
      example: "work: { stage: resin, minutes: 60 }",
    },
  ],
  ["buttons.*.work.stage", { what: "The stage that is worked on.", example: "stage: resin" }],
  ["buttons.*.work.drum", { what: "Or the drum.", example: "drum: mix" }],
  ["buttons.*.work.minutes", { what: "For how long, until it ends by itself.", example: "minutes: 60" }],
  ["buttons.*.channel", { what: "The channel of the button.", example: "channel: press/button-1" }],
  [
    "buttons.*.pressed",
    { what: "What it reports while pressed: true for 1, false for 0.", example: "pressed: true" },
  ],
  [
    "systems",
    {
      what: "Systems of tanks that get the water: hand tests are entered for them.",
      example: "systems: { hall: { volume: 900 L, tanks: [h1, h2] } }",
    },
  ],
  [
    "systems.*.title",
    {
      what: "What pages call the system.",
      otherwise: "made from the name",
      example: "title: Seahorse hall",
    },
  ],
  ["systems.*.volume", { what: "The water in all of it.", unit: volume, example: "volume: 900 L" }],
  ["systems.*.tanks", { what: "Names of its tanks.", example: "tanks: [h1, h2]" }],
  [
    "foreign",
    {
      what: "Nodes with a format of their own: each of their topics becomes one channel.",
      example: "foreign: [{ topic: shed/ec, channel: shed/ec-1, unit: uS/cm }]",
    },
  ],
  ["foreign.[].topic", { what: "The topic as it is, without + and #.", example: "topic: shed/ec" }],
  ["foreign.[].channel", { what: "The channel that it becomes.", example: "channel: shed/ec-1" }],
  [
    "foreign.[].pointer",
    {
      what: "Where in a JSON message the value stands (RFC 6901).",
      otherwise: "the message is the number",
      example: "pointer: /sensor/ec",
    },
  ],
  [
    "foreign.[].unit",
    { what: "The unit of what is sent.", otherwise: "the quantity's own", example: "unit: uS/cm" },
  ],
  [
    "foreign.[].scale",
    { what: "Multiplies what is sent, before its unit is read.", otherwise: "1", example: "scale: 1000" },
  ],
  [
    "limits",
    {
      what: "Settings of conditions, for all subjects or for one; the table of conditions in the README lists them.",
      example: 'limits: { "temperature-out:mix": { below_c: 20, above_c: 28 } }',
    },
  ],
];
