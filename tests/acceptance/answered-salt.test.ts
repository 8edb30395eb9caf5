// Batches of salt, and the people who answer for them, by a model of the works of its own. Each row stands as it was written
// down before its first run, or says what was wrong with it.
import { hour, type Told, works } from "./fresh-drum.ts";
import { table } from "./scenario-table.ts";
import type { Works } from "./waterworks.ts";
import type { Said } from "./waterworks-gateway.ts";
import { drawn, fitted } from "./waterworks-line.ts";

const salt = "holds: salt, target: { salinity: 35 }";
const probed = (drum: string) =>
  fitted({
    manual: true,
    level: true,
    drum: `${salt}, conductivity: drums/ec-9, temperature: drums/t-9${drum}`,
  });
/** PSS-78, UNESCO 37 (1981): C(35, 15, 0) = 42.914 mS/cm. */
const sea15 = 42_914;
const mixed =
  (fromS: number, kappa = sea15) =>
  (node: string, atS: number, said: Said): Said =>
    node === "drums"
      ? { ...said, "ec-9": atS < fromS ? 2 : Math.min(kappa, (kappa * (atS - fromS)) / 1200), "t-9": 15 }
      : said;
const batchOf = (s: Told) => {
  const last = s.gateway.outcomes.findLast((one) => one.kind === "batch");
  return last?.kind === "batch" ? last.state : null;
};
const byTap = { opens: (t: number, wet: boolean) => t > 60 && t < 3200 && !wet };
function salted(given: Partial<Works> = {}, tank: Works["tanks"][string] = {}) {
  const s = works({ says: mixed(3400), ...given }, { ...byTap, ...tank }, probed(""));
  s.live(3360);
  s.act("batch", { drum: "mix", step: "salted", kg: 6.5 });
  return s;
}
table("a batch of salt", [
  [
    "at 15 °C, its probe at PSS-78's own value: ready by itself, and nothing is called of its solids",
    () => {
      const s = salted();
      s.live(3 * hour);
      return [batchOf(s), s.word(), s.calledOfWater()];
    },
    ["ready", "use", []],
  ],
  [
    "ready, then 25 L of fresh water run in: not `use`, and somebody is told",
    () => {
      const s = salted(
        {
          says: (n, t, said) =>
            n === "drums" ? { ...mixed(3400, t > 13_000 ? sea15 * 0.88 : sea15)(n, t, said) } : said,
        },
        {
          draw: drawn(12_000, 90_000, 25),
          opens: (t, wet) => (t < 3200 ? byTap.opens(t, wet) : t > 12_500 && !wet),
        },
      );
      s.live(3 * hour);
      const before = s.word();
      s.live(5 * hour);
      return [before, s.word() === "use", s.raised().includes("unplanned-inflow")];
    },
    ["use", false, true],
  ],
  [
    "ready, its thermometer lost (−127 °C): nobody is called for water off its target",
    () => {
      const s = salted({
        says: (n, t, said) =>
          n === "drums" && t > 11_000 ? { ...mixed(3400)(n, t, said), "t-9": -127 } : mixed(3400)(n, t, said),
      });
      s.live(5 * hour);
      return [s.word(), s.called().filter((key) => key.startsWith("drum-off-target"))];
    },
    ["use", []],
  ],
  [
    "its probe in mS/cm taken for S/m, ten times too much: never ready",
    () => {
      const s = salted({ says: mixed(3400, sea15 * 10) });
      s.live(4 * hour);
      return [batchOf(s) === "ready", s.word() === "use"];
    },
    [false, false],
  ],
  [
    "salt that goes into water on hold does not make it good: ready, and still on hold",
    () => {
      const s = works({ says: mixed(3400), out: (t) => (t > 2500 ? 60 : 0.2) }, byTap, probed(""));
      s.live(3360);
      const before = s.word();
      s.act("batch", { drum: "mix", step: "salted", kg: 6.5 });
      s.live(4 * hour);
      return [before, s.word()];
    },
    ["hold", "hold"],
  ],
  [
    "killed in the middle of mixing, and again from the journal: ready at the same time",
    () => {
      const times = (["none", "from-journal", "from-checkpoint"] as const).map((how) => {
        const s = salted();
        s.live(5000);
        s.gateway.checkpoint();
        s.live(5400);
        if (how !== "none") s.gateway.kill(how, s.nowS());
        s.live(3 * hour);
        return [batchOf(s), s.word()];
      });
      return times;
    },
    [
      ["ready", "use"],
      ["ready", "use"],
      ["ready", "use"],
    ],
  ],
  [
    "steps at a drum that holds no salt are refused, each",
    () => {
      const s = works();
      return ["salted", "mixing", "ready", "in-use", "heel", "adding-water"].map(
        (step) => s.act("batch", { drum: "mix", step }) !== null,
      );
    },
    [true, true, true, true, true, true],
  ],
]);
