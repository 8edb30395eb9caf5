/** The lines to begin with, as one sees them. */
export const pictures = {
  "tap-carbon-drum": "tap → sediment → carbon → drum",
  "carbon-resin": "tap → sediment → carbon → resin → drum",
  resin: "tap → sediment → carbon → drum, and → resin → mixing drum",
  membrane: "tap → sediment → carbon → membrane → drum",
  "membrane-resin": "tap → sediment → carbon → membrane → resin → drum",
  "membrane-resin-drums": "tap → sediment → carbon → membrane → drum, and → resin → mixing drum",
} as const;

/** Name of a picture. */
export type Picture = keyof typeof pictures;

const named: Readonly<Record<Picture, readonly [title: string, words: string]>> = {
  "tap-carbon-drum": ["Carbon, one drum", "Tap water without chlorine."],
  "carbon-resin": ["Carbon, then resin, one drum", "Water without salts."],
  resin: ["Carbon, then resin, two drums", "A fresh drum after the carbon, a mix drum after the resin."],
  membrane: ["Membrane, one drum", "Carbon, membrane, one drum."],
  "membrane-resin": ["Membrane, then resin, one drum", "The longest life of the resin."],
  "membrane-resin-drums": [
    "Membrane, then resin, two drums",
    "A fresh drum after the membrane, a mix drum after the resin.",
  ],
};

/** What a template is made for: channels are named, or left to be placed on the page. */
interface Making {
  readonly site: string;
  readonly title?: string;
  readonly channels: boolean;
}

const head = ({ site, title }: Making, picture: Picture) => `# ${pictures[picture]}
# A channel is written node/channel: the name with which a node signs in, and what it calls the signal.
# "drumlin check" reads this file and says what is wrong or missing; "drumlin help line" explains every key.
drumlin: 1
site: ${site}
${title === undefined ? "" : `title: ${JSON.stringify(title)}\n`}# What the water works put in: chlorine, chloramine, none. Unknown is treated as chloramine.
supply: { disinfectant: unknown }
`;

const supply = ({ channels }: Making) => `  # Conductivity and temperature of the tap water.
  supply: ${channels ? "{ conductivity: press/ec-1, temperature: press/t-1 }" : "{}"}
`;

const probe = ({ channels }: Making, point: string, channel: string) =>
  `  ${point}: ${channels ? `{ conductivity: ${channel} }` : "{}"}\n`;

const filters = `  sediment: { kind: sediment, from: supply, to: after-sediment }
  carbon: { kind: carbon, from: after-sediment, to: after-carbon }
`;

const resin = (from: string) => `  # Write the volumes of your own vessel: first water is judged by them.
  resin: { kind: resin, from: ${from}, to: after-resin, vessel: 8 L }
`;

const drum = (
  { channels }: Making,
  { name, fedBy, float, more = "" }: { name: string; fedBy: string; float: string; more?: string },
) => `  ${name}:
    # To the edge over which it would run.
    volume: 200 L
    fed_by: ${fedBy}
    control: automatic
    # The float that stops the fill. Where it trips is learned, or written here: { channel: …, trips_at: 170 L }
${channels ? `    stop: ${float}\n` : ""}${more}`;

const fresh = (making: Making, fedBy: string) =>
  drum(making, { name: "fresh", fedBy, float: "drums/float-1" });
const mix = (making: Making) =>
  drum(making, { name: "mix", fedBy: "after-resin", float: "drums/float-2", more: "    holds: salt\n" });

const behindResin = (making: Making, channel: string) =>
  `  # Behind the resin: what it lets through.\n${probe(making, "after-resin", channel)}`;
const membrane = "  membrane: { kind: membrane, from: after-carbon, to: after-membrane }\n";

const bodies: Readonly<Record<Picture, (making: Making) => string>> = {
  "tap-carbon-drum": (making) => `stages:
${filters}drums:
${fresh(making, "after-carbon")}`,
  "carbon-resin": (making) => `${behindResin(making, "press/ec-2")}stages:
${filters}${resin("after-carbon")}drums:
${fresh(making, "after-resin")}`,
  resin: (making) => `${behindResin(making, "press/ec-2")}stages:
${filters}${resin("after-carbon")}drums:
${fresh(making, "after-carbon")}${mix(making)}`,
  membrane: (making) => `${probe(making, "after-membrane", "press/ec-2")}stages:
${filters}${membrane}drums:
${fresh(making, "after-membrane")}`,
  "membrane-resin": (
    making,
  ) => `${probe(making, "after-membrane", "press/ec-2")}${behindResin(making, "press/ec-3")}stages:
${filters}${membrane}${resin("after-membrane")}drums:
${fresh(making, "after-resin")}`,
  "membrane-resin-drums": (
    making,
  ) => `${probe(making, "after-membrane", "press/ec-2")}${behindResin(making, "press/ec-3")}stages:
${filters}${membrane}${resin("after-membrane")}drums:
${fresh(making, "after-membrane")}${mix(making)}`,
};

const text = (picture: Picture, making: Making) =>
  `${head(making, picture)}points:\n${supply(making)}${bodies[picture](making)}`;

/** A line file of a picture, every part explained and its channels named. Volumes are typical ones, not yours. */
export const lineTemplate = (picture: Picture, site: string) => text(picture, { site, channels: true });

/** Every picture with the file that the page begins with: no channel has its place yet. */
export function drawnPictures(site: string, title: string) {
  return (Object.keys(pictures) as Picture[]).map((id) => {
    const [name, words] = named[id];
    return { id, title: name, words, yaml: text(id, { site, title, channels: false }) };
  });
}

/** The file before anything is drawn: the page asks for a picture. */
export const emptyLine = (
  site: string,
) => `# Nothing is drawn yet: open the page, and choose the picture of your line.
# It writes this file; what you write here by hand counts just the same ("drumlin help line").
drumlin: 1
site: ${site}
points:
  supply: {}
`;
