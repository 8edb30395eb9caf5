import type { Act } from "../../acts/index.ts";
import type { Line } from "../../line/index.ts";
import type { PathEvent, Stage, StageContext } from "../../path/index.ts";
import { chlorineCell } from "../cells.ts";
import { afterTest, type Chlorine, drumsTestedAt, resultOf } from "./chlorine.ts";

type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };

function take(line: Line, act: Act, ctx: StageContext<Chlorine>): void {
  if (act.type !== "hand-test") return;
  const passed = resultOf(act, line.disinfectant);
  if (passed === null) return;
  for (const drum of drumsTestedAt(line, act.place)) {
    const known = ctx.get(chlorineCell, drum) ?? { kind: "chlorine", drum, passedMs: null, failed: null };
    const { value } = act;
    const next = afterTest(known, {
      atMs: act.validFromMs ?? ctx.nowMs,
      enteredMs: ctx.nowMs,
      value,
      passed,
    });
    if (next === known) continue;
    ctx.put(chlorineCell, drum, next);
    ctx.tell(next);
  }
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
        if (line) take(line, act, ctx);
      },
    },
    useLine(next, _was, ctx) {
      line = next;
      for (const [drum] of [...ctx.entries(chlorineCell)])
        if (!next.drums.some(({ id }) => id === drum)) ctx.put(chlorineCell, drum, undefined);
    },
    // Everything is in the cell.
    dirty: () => [],
    load: () => true,
  };
}
