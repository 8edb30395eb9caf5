// A meter that counts 0.7 of what comes, the heights of its float known, and water over the drum's band: how long the word is `use`
// while the drum is over it, on a model of its own. Written down before the first run: 60 s at the most.
import { type Row, table } from "../scenario-table.ts";
import { lineOf, Mews, meter } from "./mews-house.ts";

const heights = "trips_at: 180 L, releases_at: 160 L";
/** Behind it water may read 50, so that nothing but the blend speaks. */
const lineText = lineOf({ ...meter, stop: heights }).replace("press/t-2 }", "press/t-2, limit: 50 uS/cm }");

/** Known by six fills, then water of `kappa`: for how long it was `use` while the drum was over 10.3, and while it was under 10, s. */
function lived({ share, kappa, litres = 24 }: { share: number; kappa: number; litres?: number }) {
  const m = new Mews(lineText);
  m.meter = (perMin) => share * perMin;
  m.press.everyS = 10;
  m.drums.everyS = 10;
  m.known(0).fills(6, litres);
  m.kappa = kappa;
  const said = { falseS: 0, goodS: 0, useS: 0 };
  const endS = m.nowS + 12 * 3600;
  for (let restS = 0; m.nowS < endS && m.tank.kappa < Math.min(11, 0.97 * kappa); ) {
    restS = m.tank.isUp ? restS + 5 : 0;
    m.tank.drawn = (restS === 300 || m.tank.drawn > 0) && m.tank.litres > 180 - litres ? 20 : 0;
    m.for(5);
    const isUse = m.word() === "use";
    if (m.tank.kappa > 10.3) said.falseS += isUse ? 5 : 0;
    else if (m.tank.kappa <= 10)
      Object.assign(said, { goodS: said.goodS + 5, useS: said.useS + (isUse ? 5 : 0) });
  }
  return { ...said, useShare: Math.round((100 * said.useS) / said.goodS) / 100 };
}

const rows: readonly Row[] = [
  ...[15, 20, 40].map(
    (kappa): Row => [
      `water of ${kappa} behind a band of 10: not \`use\` while the drum is over it`,
      () => lived({ share: 0.7, kappa }).falseS <= 60,
      true,
    ],
  ),
  ["water of 9.5, under the band: `use` all the while", () => lived({ share: 0.7, kappa: 9.5 }).useShare, 1],
  [
    "a meter that counts right, 60 L at a time: not `use` while the drum is over it, as its float tells how little was in it",
    () => lived({ share: 1, kappa: 40, litres: 60 }).falseS <= 60,
    true,
  ],
];

table("a meter that may count too little", rows);
