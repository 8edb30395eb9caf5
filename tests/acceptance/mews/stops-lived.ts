import { type Mews, mews } from "./mews-house.ts";

export const stuckDry = (m: Mews) => {
  m.tank.body = () => false;
};
/** The float says that it is up, and the valve stays open at so many L/min. */
export const staysOpen = (m: Mews, perMin: number) => {
  m.tank.leak = perMin;
};
export const wakes = (m: Mews, fromS = 0) => m.calls(fromS).filter((call) => call.endsWith("wake"));
/** Knows six fills; drawn down by 24 L, its float hangs dry from then on. */
export const hangs = (kit: Parameters<typeof mews>[0], litres = 24) => {
  const m = mews(kit).known();
  const fromS = m.nowS;
  m.drawL(litres);
  m.until((x) => !x.tank.isUp);
  stuckDry(m);
  return { m, fromS };
};

export const lineWithTitle = `drumlin: 1
site: saltmarsh-house
title: The mews
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin, flow: press/flow-1 } }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: automatic, stop: drums/stop-mix, level: { channel: drums/level-mix, as: volume } }
`;
