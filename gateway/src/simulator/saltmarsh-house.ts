/** The demo's site: Saltmarsh House, an invented seahorse and killifish nursery. */
export const saltmarshHouseYaml = `# Saltmarsh House: an invented nursery. Its water is simulated.
drumlin: 1
site: saltmarsh-house
title: Saltmarsh House
supply: { disinfectant: chloramine }
points:
  supply:
    conductivity: { channel: press/ec-1, resolution: 1 uS/cm }
    temperature: press/t-1
  after-carbon: {}
  after-resin:
    conductivity: { channel: press/ec-2, resolution: 0.01 uS/cm }
stages:
  sediment: { kind: sediment, from: supply, to: after-sediment, vessel: 1.2 L }
  carbon: { kind: carbon, from: after-sediment, to: after-carbon, vessel: 20 L }
  resin: { kind: resin, from: after-carbon, to: after-resin, vessel: 8 L, media: 7 L, pipe: 0.3 L }
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
`;
