const membraneParts = {
  point: `  after-membrane:
    conductivity: { channel: press/ec-5, resolution: 0.1 uS/cm }
`,
  stage: "  membrane: { kind: membrane, from: after-carbon, to: after-membrane }\n",
} as const;

/** The demo's site: Saltmarsh House, an invented seahorse and killifish nursery; with a membrane before its resin or without. */
export const saltmarshHouseYaml = ({ membrane }: { readonly membrane: boolean }): string =>
  `# Saltmarsh House: an invented nursery. Its water is simulated.
drumlin: 1
site: saltmarsh-house
title: Saltmarsh House
supply: { disinfectant: chloramine }
points:
  supply:
    conductivity: { channel: press/ec-1, resolution: 1 uS/cm }
    temperature: press/t-1
  after-sediment:
    conductivity: { channel: press/ec-3, resolution: 1 uS/cm }
  after-carbon:
    conductivity: { channel: press/ec-4, resolution: 1 uS/cm }
${membrane ? membraneParts.point : ""}  after-resin:
    conductivity: { channel: press/ec-2, resolution: 0.01 uS/cm }
stages:
  sediment: { kind: sediment, from: supply, to: after-sediment, vessel: 1.2 L }
  carbon: { kind: carbon, from: after-sediment, to: after-carbon, vessel: 20 L }
${membrane ? membraneParts.stage : ""}  resin: { kind: resin, from: ${membrane ? "after-membrane" : "after-carbon"}, to: after-resin, vessel: 8 L, media: 7 L, pipe: 0.3 L }
drums:
  fresh:
    title: Fresh drum
    volume: 200 L
    fed_by: after-carbon
    control: automatic
    floats: { stop: { channel: drums/float-1, trips_at: 170 L, releases_at: 120 L } }
    level: { channel: drums/level-1, as: depth, strapping: { 0 m: 0 L, 0.75 m: 200 L } }
    flow: press/flow-1
    greatest_flow: 5 L/min
  mix:
    title: Mix drum
    volume: 200 L
    fed_by: after-resin
    control: manual
    holds: salt
    floats: { stop: { channel: drums/float-2, trips_at: 170 L, releases_at: 120 L } }
    level: { channel: drums/level-2, as: depth, strapping: { 0 m: 0 L, 0.75 m: 200 L } }
    flow: press/flow-2
    greatest_flow: 4 L/min
  top-up:
    title: Top-up drum
    volume: 60 L
    fed_by: after-resin
    control: automatic
    floats: { stop: { channel: drums/float-3, trips_at: 50 L, releases_at: 30 L } }
    level: { channel: drums/level-3, as: depth, strapping: { 0 m: 0 L, 0.5 m: 60 L } }
    flow: press/flow-3
    greatest_flow: 2 L/min
`;
