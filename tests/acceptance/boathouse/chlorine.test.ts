// Tests of chlorine by hand, of strips and of drops, behind carbon, before it and in the vessel. Each expectation was written down from the
// design's text before the first run.
import { beginMs } from "../line-bench.ts";
import { type Row, table } from "../scenario-table.ts";
import { boathouse, type Kit } from "./boathouse-kits.ts";

const house = (kit: Kit = { meter: true }) => boathouse(kit).known();
const drum = { place: { kind: "drum", id: "tun" } };
const main = { place: { kind: "point", id: "main" } };
const days = (count: number) => count * 86_400;

const rows: readonly Row[] = [
  [
    "drops find 0.02 mg/L: passed, of use; 0.1 to the digit: failed, on hold after the next fill",
    () =>
      [0.02, 0.1].map((found) => {
        const lived = house();
        lived.tested(found);
        return lived.fills(1).word;
      }),
    ["use", "hold"],
  ],
  [
    "a strip that reads no less than 0.5 and shows nothing proves nothing: after drops found 0.3 it clears no hold",
    () => {
      const lived = house();
      lived.tested(0.3);
      lived.fills(1).tested(0.5, { below: true });
      lived.release("hand-test", { value25UsPerCm: 0.3 });
      const answered = lived.for(60).word;
      return [answered, lived.fills(1).word];
    },
    ["use", "hold"],
  ],
  [
    "… and says nothing of a water never tested: still “never tested”",
    () => {
      const lived = house();
      const before = lived.why;
      lived.tested(0.5, { below: true });
      return [lived.for(60).fills(1).why === before, lived.word];
    },
    [true, "use"],
  ],
  [
    "drops under 0.1 (their least): passed",
    () => {
      const lived = house();
      lived.tested(0.3);
      lived.fills(1).tested(0.1, { below: true });
      lived.release("hand-test", { value25UsPerCm: 0.3 });
      return lived.fills(2).word;
    },
    "use",
  ],
  [
    "free chlorine of 0.02 passes only where the supply is known to carry no chloramine",
    () =>
      ["", "supply: { disinfectant: chlorine }", "supply: { disinfectant: chloramine }"].map((site) => {
        const lived = house({ meter: true, site });
        lived.tested(0.3);
        lived.fills(1).tested(0.02, { what: "free-chlorine" });
        lived.release("hand-test", { value25UsPerCm: 0.3 });
        return lived.fills(2).word;
      }),
    ["hold", "use", "hold"],
  ],
  [
    "free chlorine of 0.3 fails anywhere",
    () => {
      const lived = house();
      lived.tested(0.3, { what: "free-chlorine" });
      return lived.fills(1).word;
    },
    "hold",
  ],
  [
    "1.5 mg/L in the main, before the carbon, is what that is there for: of use",
    () => {
      const lived = house();
      lived.tested(1.5, main);
      return lived.fills(1).word;
    },
    "use",
  ],
  [
    "0.02 in the main clears nothing behind the carbon",
    () => {
      const lived = house();
      lived.tested(0.3);
      lived.fills(1).tested(0.02, main);
      lived.release("hand-test", { value25UsPerCm: 0.3 });
      return lived.fills(1).word;
    },
    "hold",
  ],
  [
    "0.4 in the vessel itself: on hold at once; carbon that passes does not end it, an answer does",
    () => {
      const lived = house();
      lived.tested(0.4, drum);
      const first = lived.for(10).word;
      lived.tested(0.02);
      const second = lived.for(10).word;
      lived.release("hand-test", { value25UsPerCm: 0.3 });
      return [first, second, lived.fills(1).word];
    },
    ["hold", "hold", "use"],
  ],
  [
    "new carbon does not pass by being new: on hold until a test behind it passes",
    () => {
      const lived = house();
      lived.tested(0.3);
      lived.fills(1).act("medium-change", { stage: "block" });
      lived.release("hand-test", { value25UsPerCm: 0.3 });
      const first = lived.fills(1).word;
      lived.tested(0.02);
      lived.release("hand-test", { value25UsPerCm: 0.3 });
      return [first, lived.fills(1).word];
    },
    ["hold", "use"],
  ],
  [
    "the same failed test sent twice, the second after one has passed: what passed since stands",
    () => {
      const lived = house();
      const at = { validFromMs: beginMs + lived.nowS * 1000 };
      lived.tested(0.3, at);
      lived.fills(1).tested(0.02);
      lived.release("hand-test", { value25UsPerCm: 0.3 });
      lived.for(60).tested(0.3, at);
      return lived.fills(1).word;
    },
    "use",
  ],
  [
    "the same passed test sent again after one has failed clears nothing",
    () => {
      const lived = house();
      const at = { validFromMs: beginMs + lived.nowS * 1000 };
      lived.tested(0.02, at);
      lived.fills(1).tested(0.3);
      lived.fills(1).tested(0.02, at);
      lived.release("hand-test", { value25UsPerCm: 0.3 });
      return lived.fills(1).word;
    },
    "hold",
  ],
  [
    "it failed two hours before and is entered now: all that was filled since it last passed is on hold",
    () => {
      const lived = house();
      lived.tested(0.02);
      lived.for(600);
      const at = { validFromMs: beginMs + lived.nowS * 1000 };
      lived.fills(1, 24, 7200).tested(0.3, at);
      return lived.for(10).word;
    },
    "hold",
  ],
  [
    "passed, and eight days of fills: of use still; that the test is old stands beside the word, and it knows when it was",
    () => {
      const lived = house();
      lived.tested(0.02);
      lived.for(60);
      lived.slow();
      for (let day = 0; day < 8; day += 1) lived.fills(1, 40, days(1) - 3000);
      const found = lived.bench.outcomes.findLast((one) => one.kind === "chlorine");
      const passedMs = found?.kind === "chlorine" ? found.passedMs : null;
      return [lived.word, Math.round((beginMs / 1000 + lived.nowS - (passedMs ?? 0) / 1000) / days(1))];
    },
    ["use", 8],
  ],
];

table("chlorine tests of the boathouse", rows);
