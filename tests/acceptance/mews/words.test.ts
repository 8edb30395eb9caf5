// What may be said of the water, on a model of its own. Each expectation was written down from the design's text before the first run.
import { type Row, table } from "../scenario-table.ts";
import { both, floatOnly, level, meter, mews, so } from "./mews-house.ts";
import { drum, kept, mid, silence } from "./words-lived.ts";

const rows: readonly Row[] = [
  [
    "dumped, then filled: 2 L of heel are under 5 % after 38 L, and not before",
    () => {
      const m = mews(meter);
      m.tank.litres = 2;
      m.for(5);
      m.release({ reason: "dumped" });
      m.until((x) => x.word() === "use", 7200);
      return so(m.tank.came, 37.5, 39.5);
    },
    "so",
  ],
  [
    "never answered for: 22 draws of 24 L are not enough, 33 are (U and D × (1 − d ÷ V))",
    () => {
      const m = mews(both)
        .until((x) => x.tank.isUp)
        .for(60);
      m.fills(22, 24, 60);
      const early = m.word();
      m.fills(11, 24, 60);
      return [early, m.word()];
    },
    ["unknown", "use"],
  ],
  [
    "a bucket of 3 L of unknown water: use; of 6 L: unknown (6 × 400 ÷ 186 = 13)",
    () =>
      [3, 6].map((litres) => {
        const m = mews(level).known();
        m.tank.poured = 60;
        m.for(litres);
        m.tank.poured = 0;
        return m.for(300).word();
      }),
    ["use", "unknown"],
  ],
  [
    "a bucket of 3 L where the feed is 1,200 µS/cm: unknown (3 × 1200 ÷ 183 = 20)",
    () => {
      const m = mews(level);
      m.feed = 1200;
      m.known();
      m.tank.poured = 60;
      m.for(3);
      m.tank.poured = 0;
      return m.for(300).word();
    },
    "unknown",
  ],
  [
    "a probe away for 4 min within a good run of 15: use, and the watched share shows it; for 8 min: unknown",
    () =>
      [240, 480].map((seconds) => {
        const m = mews(meter).known(3).fills(4, 60);
        mid(m, 60, () => {
          m.probe = () => null;
          m.for(seconds);
          m.probe = (kappa) => kappa;
        });
        return [m.word(), (m.last()?.watched ?? 1) < 0.85];
      }),
    [
      ["use", true],
      ["unknown", true],
    ],
  ],
  [
    "both nodes silent for 4 min at rest (under 20 L ÷ 4 L/min): use",
    () => silence({ ...meter, stop: "trips_at: 180 L, releases_at: 160 L" }, 240),
    "use",
  ],
  [
    "… where nobody knows how much lies between release and trip, 3 min are too long",
    () => silence(meter, 240),
    "unknown",
  ],
  ["… for 20 min: unknown", () => silence(meter, 1200), "unknown"],
  ["… for 20 min, same boot and counters unchanged: use", () => silence(meter, 1200, true), "use"],
  ["… and a draw and a whole fill in it: unknown", () => silence(meter, 1200, true, 24), "unknown"],
  ["float alone, silent for 20 min: unknown", () => silence(floatOnly, 1200), "unknown"],
  ["float alone, its changes uncounted since: use", () => silence(floatOnly, 1200, true), "use"],
  [
    "float alone, 24 L drawn and filled meanwhile: unknown",
    () => silence(floatOnly, 1200, true, 24),
    "unknown",
  ],
  [
    "packs kept for 20 min with a good fill in them: one fill of 24 L, use",
    () => kept(meter, 0.2, "never"),
    ["use", 1, "so"],
  ],
  ["… by a level", () => kept(level, 0.2, "never"), ["use", 1, "so"]],
  ["packs kept with a fill of 60 µS/cm in them: hold", () => kept(meter, 60, "never"), ["hold", 1, "so"]],
  [
    "… a person tested the drum after it, before they came: the test stands",
    () => kept(meter, 60, "after"),
    ["use", 1, "so"],
  ],
  [
    "the blend that is shown is the true one within 5 % over five fills of 4 µS/cm: level and meter",
    () => {
      const m = mews(both).known();
      m.kappa = 4;
      m.fills(5);
      return so((m.bench.shownBlend("mix") ?? 0) / m.tank.kappa, 0.95, 1.05);
    },
    "so",
  ],
  [
    "… by a meter alone",
    () => {
      const m = mews({ ...meter, stop: "trips_at: 180 L, releases_at: 160 L" }).known();
      m.kappa = 4;
      m.fills(5);
      return so((m.bench.shownBlend("mix") ?? 0) / m.tank.kappa, 0.95, 1.05);
    },
    "so",
  ],
  [
    "a fill of 8 µS/cm holds though the blend is under 10; five good fills and a restart end nothing; a test of 3 does",
    () => {
      const m = mews(meter).known();
      m.kappa = 8;
      m.fills(1);
      const first = m.word();
      m.kappa = 0.2;
      m.fills(3);
      m.bench.restart(m.at());
      m.fills(2);
      const second = m.word();
      const refused = m.release({ reason: "hand-test", value25UsPerCm: 3 });
      return [first, second, refused, m.for(10).word()];
    },
    ["hold", "hold", null, "use"],
  ],
  [
    "taken back after 9 min 50 s: on hold again; after 10 min 10 s refused",
    () =>
      [590, 610].map((seconds) => {
        const m = mews(meter).known();
        m.kappa = 8;
        m.fills(1);
        m.kappa = 0.2;
        m.for(300);
        m.release({ reason: "hand-test", value25UsPerCm: 3 });
        m.for(seconds);
        const answer = m.act({ type: "release-undo", drum: "mix" });
        return [answer === null, m.for(10).word()];
      }),
    [
      [true, "hold"],
      [false, "use"],
    ],
  ],
  [
    "a hand test of 12, over the band of 10: use, also after a good top-up; a run of 8 holds again",
    () => {
      const m = mews(meter).known();
      m.kappa = 8;
      m.fills(1);
      m.kappa = 0.2;
      m.for(300);
      m.release({ reason: "hand-test", value25UsPerCm: 12 });
      const first = m.for(10).word();
      m.fills(1);
      const second = m.word();
      m.kappa = 8;
      m.fills(1);
      return [first, second, m.word()];
    },
    ["use", "use", "hold"],
  ],
  [
    "dumped is refused where the level says 175 L; by a meter alone it is taken, and the word is unknown",
    () => {
      const a = mews(both).known();
      const b = mews(meter).known();
      b.kappa = 8;
      b.fills(1);
      return [a.release({ reason: "dumped" }) !== null, b.release({ reason: "dumped" }), b.for(10).word()];
    },
    [true, null, "unknown"],
  ],
  [
    "behind a membrane alone at a feed of 400 (limit 40, band 48): 35 may be used, 45 holds and is told",
    () =>
      [35, 45].map((kappa) => {
        const m = drum("feeds: by-hand", kappa, "membrane");
        return [m.word(), m.raised("membrane-passing")];
      }),
    [
      ["use", false],
      ["hold", true],
    ],
  ],
];

table("a word of the mews", rows);
