import { type Mews, meter, mews, so } from "./mews-house.ts";

export const fill = (m: Mews, litres = 24) => m.drawL(litres).until((x) => !x.tank.isUp);
/** Fills of so many litres after one of them is drawn, with something done in the middle of the inflow. */
export const mid = (m: Mews, litres: number, does: (m: Mews) => unknown) => {
  fill(m, litres);
  const cameL = m.tank.came;
  m.until((x) => x.tank.came - cameL > litres * 0.3);
  does(m);
  return m.until((x) => x.tank.isUp).for(300);
};
/** A silence of both nodes at rest. */
export const silence = (kit: Parameters<typeof mews>[0], seconds: number, counts = false, drawn = 0) => {
  const m = mews(kit);
  m.press.counts = counts;
  m.drums.counts = counts;
  m.known().for(900);
  m.press.link = "lost";
  m.drums.link = "lost";
  if (drawn > 0) m.drawL(drawn);
  m.for(seconds - drawn * 3);
  m.press.link = "on";
  m.drums.link = "on";
  return m.for(300).word();
};
export const kept = (
  kit: Parameters<typeof mews>[0],
  kappa: number,
  signed: "before" | "after" | "never",
) => {
  const m = mews(kit).known();
  const n = m.told().length;
  if (signed === "before") m.release({ reason: "other", note: "looked at" });
  m.press.link = "kept";
  m.drums.link = "kept";
  m.for(60);
  m.kappa = kappa;
  m.fills(1, 24, 60);
  m.kappa = 0.2;
  m.for(600);
  if (signed === "after") m.release({ reason: "hand-test", value25UsPerCm: 5 });
  m.for(60).sendKept("press").sendKept("drums").for(300);
  return [m.word(), m.told().length - n, so(m.last()?.litres, 22.5, 25.5)];
};
export const drum = (more: string, kappa: number, medium?: string) => {
  const m = mews({ ...meter, more, ...(medium ? { medium } : {}) });
  m.kappa = kappa;
  m.tank.litres = 2;
  m.for(5);
  m.release({ reason: "dumped" });
  m.until((x) => x.tank.isUp).for(120);
  return m;
};
export const zero = (ec: string) => {
  const m = mews({ ...meter, ec });
  m.probe = () => 0.6;
  m.known().for(1800);
  fill(m);
  m.probe = () => 0;
  m.until((x) => x.tank.isUp).for(300);
  return m.word();
};
