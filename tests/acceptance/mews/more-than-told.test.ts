// More water over the drum's band comes in than its witnesses tell: how long the word is `use` while the drum is over it, on a model of its
// own. Written down before the first run: 60 s at the most; and with a level `use` for over 0.9 of the time in which it is good.
import { type Row, table } from "../scenario-table.ts";
import { both, floatOnly, lineOf, Mews, meter } from "./mews-house.ts";

const heights = "trips_at: 180 L, releases_at: 160 L";
type Kit = Parameters<typeof lineOf>[0];

/** Behind it water may read 50, so that nothing but the blend speaks. */
function house(kit: Kit, share = 1): Mews {
  const m = new Mews(lineOf(kit).replace("press/t-2 }", "press/t-2, limit: 50 uS/cm }"));
  m.hasLevel = kit.level === true;
  m.meter = (perMin) => (kit.meter ? share * perMin : null);
  m.press.everyS = 10;
  m.drums.everyS = 10;
  return m;
}

/** How long it was `use` while the drum was over 10.3, and the share of the time under 10 in which it was. */
function watch(m: Mews) {
  const said = { falseS: 0, goodS: 0, useS: 0 };
  return {
    said,
    for(seconds: number) {
      for (let s = 0; s < seconds; s += 5) {
        m.for(5);
        const isUse = m.word() === "use";
        if (m.tank.kappa > 10.3) said.falseS += isUse ? 5 : 0;
        else if (m.tank.kappa <= 10) {
          said.goodS += 5;
          said.useS += isUse ? 5 : 0;
        }
      }
    },
    share: () => Math.round((100 * said.useS) / said.goodS) / 100,
  };
}

/** Known by six fills, then fills of so many litres with water of `kappa` until the drum is well over its band. */
function fills(kit: Kit, { litres, kappa, share = 1 }: { litres: number; kappa: number; share?: number }) {
  const m = house(kit, share);
  m.known(0).fills(6, litres);
  m.kappa = kappa;
  const seen = watch(m);
  for (let times = 0; times < 40 && m.tank.kappa < Math.min(11, 0.97 * kappa); times += 1) {
    m.tank.drawn = 20;
    seen.for(litres * 3);
    m.tank.drawn = 0;
    while (!m.tank.isUp) seen.for(10);
    seen.for(300);
  }
  return seen;
}

/** Water is drawn as it comes for hours, its float dry; what comes is over the band from the second hour on. */
function drawnThrough(kit: Kit) {
  const m = house(kit).known(0).fills(6, 24);
  m.drawL(30);
  m.tank.drawn = 4;
  m.for(2 * 3600);
  m.kappa = 40;
  const seen = watch(m);
  seen.for(2400);
  return { falseS: seen.said.falseS, kappa: Math.round(m.tank.kappa) };
}

const rows: readonly Row[] = [
  ...[24, 60].map(
    (litres): Row => [
      `a float alone, ${litres} L at a time of water of 19: not \`use\` while the drum is over its band`,
      () => fills({ ...floatOnly, stop: heights }, { litres, kappa: 19 }).said.falseS <= 60,
      true,
    ],
  ),
  ...[30, 45, 60].map(
    (litres): Row => [
      `a meter that counts 0.7, ${litres} L at a time of water of 15: not \`use\` while the drum is over its band`,
      () => fills({ ...meter, stop: heights }, { litres, kappa: 15, share: 0.7 }).said.falseS <= 60,
      true,
    ],
  ),
  [
    "a float alone of known heights, water drawn for hours as it comes: not `use` once it comes over the band",
    () => {
      const { falseS, kappa } = drawnThrough({ ...floatOnly, stop: heights });
      return [falseS <= 60, kappa > 15];
    },
    [true, true],
  ],
  [
    "a float alone of which nothing is known, the same: not `use`",
    () => drawnThrough(floatOnly).falseS <= 60,
    true,
  ],
  [
    "a float alone, water of 9.5 under the band: `use` all the while",
    () => fills({ ...floatOnly, stop: heights }, { litres: 24, kappa: 9.5 }).share(),
    1,
  ],
  [
    "a level bears its meter out, water of 15: `use` for almost all of the time in which it is good, and not for longer",
    () => {
      const seen = fills({ ...both, stop: heights }, { litres: 24, kappa: 15 });
      return [seen.said.falseS <= 60, seen.share() >= 0.9];
    },
    [true, true],
  ],
];

table("more comes in than is told", rows);
