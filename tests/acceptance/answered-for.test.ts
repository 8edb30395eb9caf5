// People who answer for water: releases, and drums that come and go, by a model of the works of its own. Each row stands as it
// was written down before its first run, or says what was wrong with it.
import { after, byHand, works } from "./fresh-drum.ts";
import { table } from "./scenario-table.ts";
import { worksOf } from "./waterworks.ts";
import { drawn, fitted, within } from "./waterworks-line.ts";

table("a release", [
  [
    "of a held drum by a hand test of 4; then 20 L of 100 come: held again",
    () => {
      const s = works(
        { out: (t) => (t > 3500 && t < 5000 ? 8 : t > 8000 ? 100 : 0.2) },
        { draw: drawn(4000, 1260, 21) },
      );
      s.live(7000);
      const before = s.word();
      const refused = byHand(s, 4);
      const released = s.word();
      s.live(11_000);
      return [before, refused, released, s.word(), s.lied() > 45];
    },
    ["hold", null, "use", "hold", false],
  ],
  [
    "in a fill of bad water that runs on: held again by the end of it",
    () => {
      const s = works({ out: after(3500, 60) }, { draw: drawn(4000, 90_000, 60, 300) });
      s.live(4400);
      const before = s.word();
      byHand(s, 4);
      s.live(6500);
      return [before, s.word()];
    },
    ["hold", "hold"],
  ],
  [
    // It was expected to be refused: only a level refuses, since a float may tell of the emptying a little later.
    "“dumped”, said by a slip of a full drum without a level whose float hangs wet: never `use` by the refills after it",
    () => {
      const bare = fitted().replace(", trips_at: 180 L, releases_at: 160 L", "");
      const s = works(
        { out: (t) => (t > 2000 && t < 5800 ? 60 : 0.2) },
        { draw: drawn(4000, 1260, 21) },
        bare,
      );
      s.live(5800);
      const before = s.word();
      s.act("release", { drum: "mix", reason: "dumped" });
      s.live(9000);
      return [before, s.word(), s.lied() > 45];
    },
    ["hold", "hold", false],
  ],
  [
    "“dumped” is refused against a level",
    () => {
      const s = works(
        { out: after(3500, 60) },
        { draw: drawn(4000, 90_000, 21) },
        fitted({ meter: false, level: true }),
      );
      s.live(6000);
      return [s.act("release", { drum: "mix", reason: "dumped" }) !== null, s.word()];
    },
    [true, "hold"],
  ],
  [
    "of unknown water by a hand test; then a silence with a refill: unknown again",
    () => {
      const s = worksOf({
        line: fitted(),
        tanks: { mix: { startL: 181, draw: drawn(8000, 90_000, 21) } },
        away: within(7900, 10_000),
      });
      s.live(3600);
      const words = [s.word()];
      words.push(byHand(s, 3), s.word());
      s.live(11_000);
      return [...words, s.word()];
    },
    ["unknown", null, "use", "unknown"],
  ],
  [
    "by a hand test over the band is the person's own: taken, and held again by bad water only",
    () => {
      const s = works({ out: (t) => (t > 3500 && t < 5000 ? 60 : 0.2) }, { draw: drawn(4000, 1260, 21) });
      s.live(6000);
      const taken = [byHand(s, 12), s.word()];
      s.live(12_000);
      return [...taken, s.word()];
    },
    [null, "use", "use"],
  ],
  [
    // It was expected to be refused: the page asks for the value, the gateway takes the act all the same.
    "without value and note of a hand test is taken, and counts as just within its band",
    () => {
      const s = works({ out: after(3500, 60) }, { draw: drawn(4000, 90_000, 21) });
      s.live(6000);
      return [byHand(s), s.word()];
    },
    [null, "use"],
  ],
  [
    "taken back twice: the second is refused; the hold stands",
    () => {
      const s = works({ out: after(3500, 60) }, { draw: drawn(4000, 90_000, 21) });
      s.live(6000);
      byHand(s, 4);
      s.live(6100);
      const first = s.act("release-undo", { drum: "mix" });
      return [first, s.word(), s.act("release-undo", { drum: "mix" }) !== null, s.word()];
    },
    [null, "hold", true, "hold"],
  ],
  [
    "of what was dumped, taken back: what was in it is in it again",
    () => {
      const s = works(
        {},
        { draw: (t) => (t > 4000 && t < 4300 ? 40 : 0), opens: (t, wet) => t < 3600 && !wet },
      );
      s.live(4800);
      const words = [s.act("release", { drum: "mix", reason: "dumped" }), s.word()];
      s.live(4900);
      return [...words, s.act("release-undo", { drum: "mix" }), s.word()];
    },
    [null, "unknown", null, "use"],
  ],
  [
    "taken back after the gateway was killed and read its journal again",
    () => {
      const s = works({ out: after(3500, 60) }, { draw: drawn(4000, 90_000, 21) });
      s.live(6000);
      byHand(s, 4);
      s.live(6060);
      s.gateway.kill("from-journal", s.nowS());
      s.live(6120);
      const word = s.word();
      return [word, s.act("release-undo", { drum: "mix" }), s.word()];
    },
    ["use", null, "hold"],
  ],
  [
    "while bad water came late that was made before it: the test had it in, the word stays",
    () => {
      const s = works(
        { keeps: true, away: within(3900, 6300), out: (t) => (t > 3900 && t < 6000 ? 60 : 0.2) },
        { draw: drawn(4000, 90_000, 21) },
      );
      s.live(6240);
      const refused = byHand(s, 4);
      s.live(8000);
      return [refused, s.word()];
    },
    [null, "use"],
  ],
]);

const without = fitted().replace(
  /drums:\n {2}mix:.*\n/,
  "drums: { other: { volume: 50 L, fed_by: supply, control: manual } }\n",
);
table("a drum that goes and comes back in the line file", [
  [
    "for 2 h in which it was filled with bad water: not `use`",
    () => {
      const s = works({ out: after(3500, 60) }, { draw: drawn(5000, 90_000, 40, 200) });
      s.live(4000);
      s.gateway.push({ kind: "line", yaml: without }, s.nowS());
      s.live(11_000);
      s.gateway.push({ kind: "line", yaml: fitted() }, s.nowS());
      s.live(12_000);
      return [s.word() === "use", s.lied() > 7100];
    },
    [false, false],
  ],
  [
    "for 5 s, by a slip, while it is on hold: it is on hold, or unknown, never `use`",
    () => {
      const s = works({ out: after(3500, 60) }, { draw: drawn(4000, 90_000, 21) });
      s.live(6000);
      const before = s.word();
      s.gateway.push({ kind: "line", yaml: without }, s.nowS());
      s.live(6005);
      s.gateway.push({ kind: "line", yaml: fitted() }, s.nowS());
      s.live(7000);
      return [before, s.word() === "use"];
    },
    ["hold", false],
  ],
  [
    "its point is renamed while a breakthrough stands: the hold stays",
    () => {
      const s = works({ out: after(3500, 60) }, { draw: drawn(4000, 90_000, 21) });
      s.live(6000);
      s.gateway.push({ kind: "line", yaml: fitted().replaceAll("after-resin", "pure") }, s.nowS());
      s.live(7000);
      return s.word();
    },
    "hold",
  ],
]);
