import { compute, type Formula, formulas } from "@drumlin/gateway/water";
import { describe, expect, it } from "vitest";
import { drawCall } from "./argument-ends/calls.ts";
import { drawFrom } from "./argument-ends/draw.ts";
import { callText, faultOf } from "./argument-ends/judge.ts";

// `npm run soak -- formulas` runs 120,000 calls from a seed of its own.
const calls = Number(process.env.DRUMLIN_FORMULA_CALLS ?? 5000);
const seed = Number(process.env.DRUMLIN_SEED ?? 20_261_125);
const share = Math.ceil(calls / formulas.length);
/** Analyses of a dozen ions at the ends of their ranges are seldom taken: the more inputs, the more calls. */
const callsOf = ({ inputs }: Formula) => Math.max(share, 12 * Object.keys(inputs.shape).length);

describe(`formulas at the ends of their arguments, ${calls} calls from seed ${seed}`, () => {
  it.each(formulas.map((formula) => [formula.id, formula] as const))(
    "%s: no throw, no NaN, nothing taken that must be refused, refusals that name an input",
    (id, formula) => {
      const draw = drawFrom(seed + [...id].reduce((sum, letter) => sum * 31 + letter.charCodeAt(0), 0));
      let taken = 0;
      for (let call = 0; call < callsOf(formula); call += 1) {
        const drawn = drawCall(formula, draw);
        // Every other call is the example with one input drawn: a formula of many inputs refuses most that are drawn all.
        const names = Object.keys(drawn.given);
        const one = names[call % Math.max(1, names.length)];
        const judged =
          draw.once(2) && !drawn.mustRefuse && one !== undefined
            ? { ...drawn, given: { ...formula.example, [one]: drawn.given[one] } }
            : drawn;
        if (!judged.mustRefuse && compute(id, judged.given).ok) taken += 1;
        const fault = faultOf(judged);
        expect(fault === null ? null : `${callText(judged)}: ${fault}`).toBeNull();
      }
      // A formula that refuses every call would show nothing.
      expect(taken, "calls that it took").toBeGreaterThan(0);
    },
  );
});

describe("the judge of the calls", () => {
  const [formula] = formulas as [Formula];
  const call = { formula, given: { kappa: 300, temperature: 10 }, mustRefuse: false };
  const good = compute(formula.id, call.given);
  const refused = (code: string, message: string) => () =>
    ({ ok: false, code, message }) as ReturnType<typeof compute>;
  it("finds nothing in a good call and in a good refusal", () => {
    expect(faultOf(call)).toBeNull();
    expect(faultOf(call, refused("out-of-range", "kappa is too much of a good thing."))).toBeNull();
  });
  it.each([
    ["must be refused", { ...call, mustRefuse: true }, () => good],
    ["a number that is none", call, () => ({ ok: true, values: { kappa25: Number.NaN }, units: {} })],
    ["a number that is none", call, () => ({ ok: true, values: { kappa25: [1, -1 / 0] }, units: {} })],
    ["does not announce", call, () => ({ ok: true, values: { kappa: 1 }, units: {} })],
    ["refused with the code", call, refused("oops", "kappa is too much.")],
    ["nobody can read", call, refused("out-of-range", "kappa is NaN.")],
    ["names no input", call, refused("out-of-range", "conductivity is too much.")],
    ["not understood", call, refused("input-not-understood", "kappa is a riddle.")],
    [
      "threw",
      call,
      () => {
        throw new Error("no");
      },
    ],
  ] as const)("finds: %s", (fault, of, run) => expect(faultOf(of, run as typeof compute)).toContain(fault));
});
