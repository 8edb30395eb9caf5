// Bad water that nobody saw coming, in silences, nights and outages, by a model of the works of its own. Each row stands as it
// was written down before its first run, or says what was wrong with it.
import { filled, hour, instead, often, soonS, spent, word } from "./filled-drum.ts";
import { table } from "./scenario-table.ts";
import { drawn, within } from "./waterworks-line.ts";

table("water that nobody saw", [
  [
    "the press is silent through a bad refill, the float is heard: no `use`, told while it fills",
    () => {
      const s = filled(
        {},
        3 * hour,
        { out: spent, away: (t, node) => node === "press" && within(3900, 9000)(t) },
        { draw: drawn(4000, 90_000, 21) },
      );
      return { use: s.word() === "use", lies: s.lied() > soonS, told: s.called().length > 0 };
    },
    { use: false, lies: false, told: true },
  ],
  [
    "both silent for 30 min, a bad refill in it, wet before and after, no counters: no `use`",
    () => {
      const s = filled(
        {},
        3 * hour,
        { out: spent, away: within(3900, 5700) },
        { draw: drawn(4000, 90_000, 21) },
      );
      return word(s);
    },
    { word: "unknown", lies: false },
  ],
  [
    "the same with counters that moved: no `use`",
    () =>
      word(
        filled(
          {},
          3 * hour,
          { out: spent, counters: true, away: within(3900, 5700) },
          { draw: drawn(4000, 90_000, 21) },
        ),
      ),
    { word: "unknown", lies: false },
  ],
  [
    "both silent for 30 min, counters that stood still: stays `use`",
    () =>
      word(
        filled({}, 4 * hour, { counters: true, away: within(7900, 9700) }, { draw: drawn(4000, 90_000, 21) }),
      ),
    { word: "use", lies: false },
  ],
  [
    "the same, and the drums' node begins a new boot in it: its counter proves nothing",
    () =>
      word(
        filled(
          {},
          4 * hour,
          {
            out: spent,
            counters: true,
            away: within(7900, 9700),
            off: (t, n) => n === "drums" && within(8000, 8300)(t),
          },
          { draw: (t) => drawn(8000, 90_000, 21)(t) },
        ),
      ),
    { word: "unknown", lies: false },
  ],
  [
    "a level is 20 L higher after a silence than before, and nobody drew",
    () =>
      word(
        filled(
          { meter: false, level: true },
          4 * hour,
          { out: spent, away: within(4300, 6300) },
          { draw: drawn(4200, 90_000, 21) },
        ),
      ),
    { word: "unknown", lies: false },
  ],
  [
    "15 L of the tap are carried in, by a drum with a level",
    () =>
      word(
        filled(
          { meter: false, level: true },
          3 * hour,
          { periodS: 20 },
          { draw: drawn(4000, 90_000, 17), poured: drawn(5000, 90_000, 16, 120) },
        ),
      ),
    { word: "unknown", lies: false },
  ],
  [
    // A level must rise for 3 min beside a meter at 0 before the meter is not believed.
    "a hose runs in 25 L past the resin, by a drum with meter and level: no `use` 6 min after it began",
    () => {
      const s = filled(
        { level: true },
        3 * hour,
        {},
        {
          draw: drawn(4000, 90_000, 18),
          poured: drawn(5000, 90_000, 25, 750),
          opens: (t, wet) => t < 3300 && !wet,
        },
      );
      return { use: s.word() === "use", lies: s.lied() > 300 };
    },
    { use: false, lies: false },
  ],
  [
    "a valve that leaks 0.1 L/min, under the meter's start, lets water of spent resin in: no lie",
    () => {
      const s = filled(
        { level: true },
        6 * hour,
        { periodS: 30, out: spent, says: instead("flow-1", (q) => (q < 0.5 ? 0 : q)) },
        { draw: drawn(4000, 2 * hour, 20), leak: (t) => (t > 3600 ? 0.1 : 0) },
      );
      return s.lied() > soonS;
    },
    false,
  ],
  [
    "the sink of a meter: it sticks at 0 through bad refills that the float asks for",
    () =>
      word(
        filled(
          {},
          2 * hour,
          { out: spent, says: instead("flow-1", (q, t) => (t > 3500 ? 0 : q)) },
          { draw: often },
        ),
      ),
    { word: "unknown", lies: false },
  ],
]);

table("nights and outages", [
  [
    "a day and a half, a reboot each night and the router away for an hour: `use` at least 90 % of the time",
    () => {
      const away = within(30 * hour, 31 * hour);
      const off = (t: number) => t % (24 * hour) >= 6 * hour && t % (24 * hour) < 6 * hour + 50;
      const s = filled(
        { meter: false },
        34 * hour,
        { periodS: 60, counters: true, away, off },
        { draw: drawn(4000, 4 * hour, 22) },
      );
      return { share: s.share() >= 0.9, lies: s.lied() > 0, waked: s.calledOfWater() };
    },
    { share: true, lies: false, waked: [] },
  ],
  [
    "the same by a meter, its counters too",
    () => {
      const away = within(30 * hour, 31 * hour);
      const off = (t: number) => t % (24 * hour) >= 6 * hour && t % (24 * hour) < 6 * hour + 50;
      const s = filled(
        {},
        34 * hour,
        { periodS: 60, counters: true, away, off },
        { draw: drawn(4000, 4 * hour, 22) },
      );
      return { share: s.share() >= 0.9, lies: s.lied() > 0, waked: s.calledOfWater() };
    },
    { share: true, lies: false, waked: [] },
  ],
  [
    "the same without counters, the nodes keep their packs",
    () => {
      const s = filled(
        {},
        16 * hour,
        { periodS: 60, keeps: true, away: within(10 * hour, 11 * hour) },
        { draw: drawn(4000, 2 * hour, 22) },
      );
      return { share: s.share() >= 0.9, lies: s.lied() > 0, waked: s.calledOfWater() };
    },
    { share: true, lies: false, waked: [] },
  ],
  [
    "the same with bad water made in the outage: hold when it is heard",
    () =>
      word(
        filled(
          {},
          14 * hour,
          {
            periodS: 60,
            keeps: true,
            away: within(10 * hour, 11.5 * hour),
            out: (t) => (t > 9.9 * hour ? 60 : 0.2),
          },
          { draw: drawn(4000, 2 * hour, 22) },
        ),
      ),
    { word: "hold", lies: false },
  ],
]);
