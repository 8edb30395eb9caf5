import { type Mews, meter, mews } from "./mews-house.ts";

export const wakes = (m: Mews, fromS = 0) => m.calls(fromS).filter((call) => call.endsWith("wake"));
export const proof = (m: Mews) => m.bench.outcomes.findLast((one) => one.kind === "proof");
export const start = (m: Mews, float: string, method = "lifted") =>
  m.act({ type: "proof-start", float, method });
export const up = (m: Mews, seconds: number) => {
  m.tank.contact = () => true;
  m.for(seconds);
  m.tank.contact = (isUp) => isUp;
};
/** A drum filled by hand whose contact is closed while it hangs. */
export const reversed = () => {
  const m = mews({ ...meter, manual: true });
  m.tank.tap = false;
  m.tank.litres = 60;
  m.tank.contact = (isUp) => !isUp;
  return m.for(60);
};
export const mA = (value: number) => ({ u: "A", v: value / 1000 });
export const supervised = (kit: Parameters<typeof mews>[0] = meter) => {
  const m = mews({ ...kit, stop: "supervised: true, wet: true" });
  m.tank.contact = (isUp) => mA(isUp ? 3 : 0.7);
  return m;
};
export const two = (kit: Parameters<typeof mews>[0]) => {
  const m = mews({ ...kit, names: ["mix", "tub"] });
  const calm = (x: Mews) => x.until((y) => Object.values(y.tanks).every(({ isUp }) => isUp), 14_400).for(300);
  calm(m);
  for (const drum of ["mix", "tub"]) m.release({ reason: "hand-test", value25UsPerCm: 0.2 }, drum);
  for (let i = 0; i < 6; i += 1) {
    m.fills(1, 24, 400, "mix");
    m.fills(1, 24, 400, "tub");
  }
  return m;
};
