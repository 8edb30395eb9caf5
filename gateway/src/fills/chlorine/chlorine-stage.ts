import type { Act } from "../../acts/index.ts";
import type { Line } from "../../line/index.ts";
import { actsOf, type PathEvent, type Stage, type StageContext } from "../../path/index.ts";
import { chlorineCell } from "../cells.ts";
import { afterTest, byItsCarbon, type Chlorine, drumsTestedAt, isWhereItWas, resultOf } from "./chlorine.ts";

type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };

/** Puts a test into force that was entered at `enteredMs`; what it changes. */
function take(line: Line, act: Act, enteredMs: number, ctx: StageContext<Chlorine>): readonly Chlorine[] {
  if (act.type !== "hand-test") return [];
  const passed = resultOf(act, line.disinfectant);
  if (passed === null) return [];
  const { value, place, validFromMs } = act;
  return drumsTestedAt(line, place).flatMap((drum) => {
    const known = ctx.get(chlorineCell, drum) ?? { kind: "chlorine", drum, passedMs: null, failed: null };
    const atMs = validFromMs ?? enteredMs;
    const next = afterTest(known, { atMs, enteredMs, value, passed, inDrum: place.kind === "drum" });
    if (next === known) return [];
    ctx.put(chlorineCell, drum, next);
    return [next];
  });
}

/** Whether chlorine passes the carbon, by tests: no probe of conductivity sees it. */
export function createChlorineStage(): Stage<Acted, Chlorine> {
  let line: Line | null = null;
  return {
    name: "chlorine",
    version: 1,
    owns: [chlorineCell],
    reads: [],
    acts: ["hand-test"],
    hears: {
      act({ act }, ctx) {
        if (line) for (const one of take(line, act, ctx.nowMs, ctx)) ctx.tell(one);
      },
    },
    useLine(next, was, ctx) {
      line = next;
      // What is known of a drum that the line has no more is kept: it may be left out by a slip, and come back.
      const known = new Map(ctx.entries(chlorineCell));
      for (const drum of next.drums) {
        if (known.has(drum.id) && isWhereItWas(drum, next, was)) continue;
        const chlorine = byItsCarbon(drum, { line: next, was, known });
        if (chlorine) ctx.put(chlorineCell, drum.id, chlorine);
      }
    },
    // Everything is in the cell.
    dirty: () => [],
    load: () => true,
    // Carbon that let chlorine through before the checkpoint was lost does so still.
    seed(records, ctx) {
      if (line) for (const { atMs, act } of actsOf(records, ["hand-test"])) take(line, act, atMs, ctx);
    },
  };
}
