// Water behind carbon, a membrane, and a resin that two drums share, by a model of the works of its own. Each row stands as it
// was written down before its first run, or says what was wrong with it.
import { after, byHand, hour, type Told, works } from "./fresh-drum.ts";
import { createColumn } from "./resin-column.ts";
import { table } from "./scenario-table.ts";
import { type Works, worksOf } from "./waterworks.ts";
import type { Said } from "./waterworks-gateway.ts";
import { drawn, fitted } from "./waterworks-line.ts";

const carbonLine = fitted()
  .replace("points: {", "supply: { disinfectant: chloramine }\npoints: {")
  .replace(
    "stages: { resin: {",
    "stages: { carbon: { kind: carbon, from: supply, to: after-carbon }, resin: {",
  )
  .replace("pipe: 0.2 L, from: supply", "pipe: 0.2 L, from: after-carbon");
const chlorine = (s: Told, value: number, more: object = {}) =>
  s.act("hand-test", {
    place: { kind: "point", id: "after-carbon" },
    what: "total-chlorine",
    value,
    ...more,
  });
table("chlorine behind carbon", [
  [
    "“less than 0.5”, by a test that can't read lower, passes nothing: a drum held for chlorine is held by the next fill",
    () => {
      const s = works({}, { draw: drawn(6000, hour, 21) }, carbonLine);
      chlorine(s, 0.02, { below: true });
      s.live(5000);
      chlorine(s, 0.8);
      s.live(9000);
      const held = s.word();
      chlorine(s, 0.5, { below: true });
      byHand(s, 1);
      const released = s.word();
      s.live(14_000);
      return [held, released, s.word()];
    },
    ["hold", "use", "hold"],
  ],
  [
    "a failed test that is entered two hours late, for a time before the fill: held",
    () => {
      const s = works({}, { draw: drawn(6000, 90_000, 21) }, carbonLine);
      chlorine(s, 0.02, { below: true });
      s.live(13_000);
      const before = s.word();
      const refused = chlorine(s, 1.2, { validFromMs: Date.UTC(2026, 4, 11, 21) + 5000e3 });
      s.live(13_100);
      return [before, refused, s.word()];
    },
    ["use", null, "hold"],
  ],
  [
    "a failed test is still there when the gateway was killed and read its journal again",
    () => {
      const s = works({}, { draw: drawn(6000, 90_000, 21) }, carbonLine);
      chlorine(s, 0.02, { below: true });
      s.live(5000);
      chlorine(s, 1.2);
      s.gateway.kill("from-journal", s.nowS());
      s.live(9000);
      return s.word();
    },
    "hold",
  ],
]);

const membrane = fitted({ stage: "kind: membrane" }).replaceAll("after-resin", "after-membrane");
table("a membrane alone", [
  [
    "at 24 of 400 may be used; torn, at 220: told and held before its band is passed",
    () => {
      const s = works(
        { out: (t) => (t > 9000 ? 220 : 24), band: 48 },
        { startKappa: 24, draw: drawn(4000, 1260, 21) },
        membrane,
      );
      s.live(8000);
      const before = s.word();
      s.live(3.5 * hour);
      return [before, s.word(), s.lied() > 45, s.called().some((key) => key.startsWith("membrane-passing"))];
    },
    ["use", "hold", false, true],
  ],
  [
    "gives 300 for its first 90 s after each rest: the word stays",
    () => {
      const s = works(
        { band: 48, out: (t) => ((t - 4000) % hour < 300 && t > 4000 && (t - 4000) % hour < 150 ? 90 : 20) },
        { draw: drawn(4000, hour, 41, 60), releaseL: 160 },
        membrane,
      );
      s.live(6 * hour);
      return [s.word(), s.lied() > 45];
    },
    ["use", false],
  ],
]);

const pair = `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1, temperature: press/t-1 }, after-resin: { conductivity: press/ec-2, temperature: press/t-2 } }
stages: { resin: { kind: resin, vessel: 2 L, pipe: 0.2 L, from: supply, to: after-resin, flow: press/flow-1 } }
drums:
  left: { volume: 200 L, fed_by: after-resin, control: automatic, stop: { channel: drums/stop-left, wet: true, trips_at: 180 L, releases_at: 160 L } }
  right: { volume: 200 L, fed_by: after-resin, control: automatic, stop: { channel: drums/stop-right, wet: true, trips_at: 180 L, releases_at: 160 L } }
`;
function twins(given: Partial<Works>, left: Works["tanks"][string], right: Works["tanks"][string]) {
  const s = worksOf({ line: pair, tanks: { left, right }, ...given } as Works);
  s.live(30);
  for (const drum of ["left", "right"]) s.act("release", { drum, reason: "dumped" });
  s.live(3600);
  return s;
}
table("two drums behind one resin", [
  [
    "bad water goes into the left one only: it is held, the right one is not",
    () => {
      const s = twins({ out: after(3500, 60) }, { draw: drawn(4000, 1260, 21) }, {});
      s.live(3 * hour);
      return [s.word("left"), s.word("right"), s.lied("left") > 45];
    },
    ["hold", "use", false],
  ],
  [
    "bad water goes into both at once: both are held, in time",
    () => {
      const s = twins(
        { out: after(3500, 60) },
        { draw: drawn(4000, 1260, 21) },
        { draw: drawn(4060, hour, 21) },
      );
      s.live(3 * hour);
      return [s.word("left"), s.word("right"), s.lied("left") > 45, s.lied("right") > 45];
    },
    ["hold", "hold", false, false],
  ],
  [
    "one after the other, the second starts while the resin goes from good to bad",
    () => {
      const column = createColumn({ halfL: 420, zoneL: 6 });
      const s = twins({ column }, { draw: drawn(4000, 1260, 21) }, { draw: drawn(4200, hour, 21) });
      s.live(6 * hour);
      return [s.word("left"), s.word("right"), s.lied("left") > 45, s.lied("right") > 45];
    },
    ["hold", "hold", false, false],
  ],
  [
    "the float of the left one is cut, wet for ever, while it takes bad water: no `use` where the water is bad",
    () => {
      const says = (n: string, t: number, said: Said): Said =>
        n === "drums" && t > 3900 ? { ...said, "stop-left": true } : said;
      const s = twins({ out: after(3500, 60), says }, { draw: drawn(4000, 1260, 21) }, {});
      s.live(2 * hour);
      // Water that nobody asked for is told after 3 min.
      return [s.lied("left") > 240, s.word("left") === "use"];
    },
    [false, false],
  ],
]);
