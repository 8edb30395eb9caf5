// What was acknowledged, by a model of the works of its own: gateways that are killed, packs that are late, twice or wrongly
// dated. Each row stands as it was written down before its first run, or says what was wrong with it.
import { after, refill, type Told, works } from "./fresh-drum.ts";
import { table } from "./scenario-table.ts";
import { type Works, worksOf } from "./waterworks.ts";
import { type Death, type Pack, startMs } from "./waterworks-gateway.ts";
import { drawn, fitted, within } from "./waterworks-line.ts";

/** A day in small: good refills, a refill of bad water, a valve that leaks past its float. */
function day(dies: (s: Told) => void): unknown {
  const s = worksOf({
    line: fitted({ level: true }),
    tanks: { mix: { draw: drawn(4000, 2400, 21), leak: (t) => (t > 10_200 ? 1.5 : 0) } },
    out: (t) => (t > 8600 ? 40 : 0.2),
    periodS: 20,
  });
  for (let at = 300; at <= 3600 * 4; at += 300) {
    s.live(at);
    if (at === 300) s.act("release", { drum: "mix", reason: "dumped" });
    dies(s);
  }
  const told = s.gateway.outcomes.flatMap((one) => {
    if (one.kind === "alarm" && one.why !== "judged" && one.why !== "not-judged")
      return [`${one.atMs - startMs} ${one.alarm.key} ${one.why} ${one.to} ${one.annunciated}`];
    if (one.kind === "drum-water") return [`${one.atMs - startMs} ${one.verdict}`];
    if (one.kind === "fill" && one.endedAtMs !== null)
      return [`${one.id} ${one.end} ${one.litres?.toFixed(2)} ${one.mean25?.toFixed(2)}`];
    return [];
  });
  return [...new Set(told)].sort();
}
let lived: string | null = null;
const undisturbed = () => {
  lived ??= JSON.stringify(day(() => {}));
  return lived;
};
function killed(how: Death, each: number, checkpointEach: number) {
  return day((s) => {
    const at = s.nowS();
    if (at % checkpointEach === 0) s.gateway.checkpoint();
    if (at % each === 0) s.gateway.kill(how, at - 0.5);
  });
}
table("a gateway that is killed", [
  [
    "twice in a day, only its journal left: all is told as if it had lived",
    () => JSON.stringify(killed("from-journal", 6900, 1e9)) === undisturbed(),
    true,
  ],
  // 48 kills were expected to change nothing: beside one each 5 min a meter and a level are never compared long enough.
  [
    "8 times, by its checkpoint of that moment",
    () => JSON.stringify(killed("from-checkpoint", 1800, 1800)) === undisturbed(),
    true,
  ],
  [
    "6 times, by a checkpoint that is up to 50 min old and what came after it",
    () => JSON.stringify(killed("from-checkpoint", 2400, 3000)) === undisturbed(),
    true,
  ],
]);

const between = (fromS: number, toS: number): Partial<Works> => ({ keeps: true, away: within(fromS, toS) });
table("packs that come late", [
  [
    "by 10 min, with a bad refill in them: hold",
    () => {
      const s = works({ ...between(4010, 4610), out: after(3900, 60) }, refill);
      s.live(6000);
      return [s.word(), s.lied() > 660];
    },
    ["hold", false],
  ],
  [
    "by 3 h, with a bad refill in them: not `use` before, hold after",
    () => {
      const s = works({ ...between(3900, 14_700), out: after(3900, 60) }, refill);
      s.live(14_600);
      const before = s.word() === "use";
      s.live(16_000);
      return [before, s.word()];
    },
    [false, "hold"],
  ],
  [
    "by 3 h, with a good refill in them: `use` again",
    () => {
      const s = works(between(3900, 14_700), refill);
      s.live(14_600);
      const before = s.word() === "use";
      s.live(16_000);
      return [before, s.word()];
    },
    [false, "use"],
  ],
  [
    "by 2 days, each minute, with bad refills in them: hold when they are there",
    () => {
      const s = works(
        { ...between(3900, 176_700), periodS: 60, out: after(3900, 60) },
        { draw: drawn(4000, 40_000, 21) },
      );
      s.live(178_000);
      return s.word();
    },
    "hold",
  ],
  [
    "by 3 h, newest first, a bad refill in them: not `use`",
    () => {
      const held: Pack[] = [];
      const sends = (pack: Pack, t: number): readonly Pack[] => {
        if (t >= 3900 && t < 14_700) {
          held.push(pack);
          return [];
        }
        return t >= 14_700 && held.length > 0 ? [pack, ...held.splice(0).reverse()] : [pack];
      };
      const s = works({ sends, out: after(3900, 60) }, refill);
      s.live(16_500);
      return s.word() === "use";
    },
    false,
  ],
  [
    "by 3 h, and the gateway is killed in the middle of them: hold",
    () => {
      const s = works({ ...between(3900, 14_700), out: after(3900, 60) }, refill);
      s.live(14_750);
      s.gateway.kill("from-journal", s.nowS());
      s.live(16_500);
      return s.word();
    },
    "hold",
  ],
]);

const twice = (pack: Pack): readonly Pack[] => [pack, pack];
table("packs that are wrong", [
  [
    "each twice: litres once, the same word",
    () => {
      const s = works({ sends: twice }, refill);
      s.live(6000);
      return [s.word(), Math.abs(s.litresIn() - 199) < 4];
    },
    ["use", true],
  ],
  [
    "with the same number and other bytes, of bad water: it counts",
    () => {
      const s = works(
        { sends: (p, t) => (t > 3600 ? [{ ...p, seq: 5 }] : [p]), out: after(3900, 60) },
        refill,
      );
      s.live(6000);
      return s.word();
    },
    "hold",
  ],
  [
    "with numbers that go back, of bad water: it counts",
    () => {
      const s = works(
        { sends: (p, t) => (t > 3600 ? [{ ...p, seq: 100_000 - t }] : [p]), out: after(3900, 60) },
        refill,
      );
      s.live(6000);
      return s.word();
    },
    "hold",
  ],
  [
    "two of one date, the second of bad water: it counts",
    () => {
      const sends = (p: Pack, t: number): readonly Pack[] =>
        p.node === "press" && t > 3600
          ? [
              { ...p, datedS: 0, said: { ...p.said, "ec-2": Math.min(0.2, Number(p.said["ec-2"])) } },
              { ...p, seq: p.seq + 50_000, datedS: 0 },
            ]
          : [p];
      const s = works({ sends, labels: false, out: after(3900, 60) }, { draw: drawn(4000, 1260, 21) });
      s.live(7000);
      return s.word() === "use";
    },
    false,
  ],
  [
    "dated a day ahead: refused by name, no `use` after a refill, somebody can know",
    () => {
      const s = works(
        { labels: false, sends: (p, t) => [{ ...p, datedS: t > 3600 ? 86_400 : 0 }], out: after(3900, 60) },
        refill,
      );
      s.live(9000);
      return [
        s.word() === "use",
        s.raised().some((one) => ["clock-wrong", "readings-refused"].includes(one)),
      ];
    },
    [false, true],
  ],
  [
    "dated a day back by both nodes: no `use` after a refill, and they are missed as if they were silent",
    () => {
      const s = works(
        { labels: false, sends: (p, t) => [{ ...p, datedS: t > 3600 ? -86_400 : 0 }], out: after(3900, 60) },
        refill,
      );
      s.live(9000);
      return [
        s.word() === "use",
        s.raised().includes("site-silent"),
        s.standing().includes("node-silent:press"),
      ];
    },
    [false, true, true],
  ],
]);
