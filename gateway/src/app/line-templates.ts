/** The four lines to begin with, as one sees them. */
export const pictures = {
  "tap-carbon-drum": "tap → sediment → carbon → drum",
  resin: "tap → sediment → carbon → drum, and → resin → mixing drum",
  membrane: "tap → sediment → carbon → membrane → drum",
  "membrane-resin": "tap → sediment → carbon → membrane → resin → drum",
} as const;

/** Name of a picture. */
export type Picture = keyof typeof pictures;

const head = (site: string, picture: Picture) => `# ${pictures[picture]}
# A channel is written node/channel: the name with which a node signs in, and what it calls the signal.
# "drumlin check" reads this file and says what is wrong or missing.
drumlin: 1
site: ${site}
# What the water works put in: chlorine, chloramine, none. Unknown is treated as chloramine.
supply: { disinfectant: unknown }
`;

const supply = `  # Conductivity and temperature of the tap water.
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
`;

const filters = `  sediment: { kind: sediment, from: supply, to: after-sediment }
  carbon: { kind: carbon, from: after-sediment, to: after-carbon }
`;

const drum = (name: string, fedBy: string, float: string, more = "") => `  ${name}:
    volume: 200 L
    fed_by: ${fedBy}
    control: automatic
    # The float that stops the fill. Where it trips is learned, or written here: { channel: …, trips_at: 170 L }
    stop: ${float}
${more}`;

/** A line file for each picture, every part explained. Volumes are typical ones, not yours. */
export const lineTemplates: Readonly<Record<Picture, (site: string) => string>> = {
  "tap-carbon-drum": (site) => `${head(site, "tap-carbon-drum")}points:
${supply}stages:
${filters}drums:
${drum("fresh", "after-carbon", "drums/float-1")}`,
  resin: (site) => `${head(site, "resin")}points:
${supply}  # Behind the resin: what it lets through.
  after-resin: { conductivity: press/ec-2 }
stages:
${filters}  # Write the volumes of your own vessel: first water is judged by them.
  resin: { kind: resin, from: after-carbon, to: after-resin, vessel: 8 L }
drums:
${drum("fresh", "after-carbon", "drums/float-1")}${drum("mix", "after-resin", "drums/float-2", "    holds: salt\n")}`,
  membrane: (site) => `${head(site, "membrane")}points:
${supply}  after-membrane: { conductivity: press/ec-2 }
stages:
${filters}  membrane: { kind: membrane, from: after-carbon, to: after-membrane }
drums:
${drum("fresh", "after-membrane", "drums/float-1")}`,
  "membrane-resin": (site) => `${head(site, "membrane-resin")}points:
${supply}  after-membrane: { conductivity: press/ec-2 }
  after-resin: { conductivity: press/ec-3 }
stages:
${filters}  membrane: { kind: membrane, from: after-carbon, to: after-membrane }
  resin: { kind: resin, from: after-membrane, to: after-resin, vessel: 8 L }
drums:
${drum("fresh", "after-resin", "drums/float-1")}`,
};
