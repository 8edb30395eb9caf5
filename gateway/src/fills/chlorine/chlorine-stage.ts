import type { Act } from "../../acts/index.ts";
import type { Drum, Line } from "../../line/index.ts";
import { actsOf, type PathEvent, type Stage, type StageContext } from "../../path/index.ts";
import { chlorineCell } from "../cells.ts";
import { type Chlorine, resultOf } from "./chlorine.ts";
import { chlorineOf } from "./chlorine-of.ts";
import { behindCarbon, carbonBefore, drumsTestedAt, testsOf, withPlace, withTest } from "./tested-where.ts";

type Context = StageContext<Chlorine>;
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };

/** Puts a test into force that was entered at `enteredMs`; what it changes. */
function take(line: Line, act: Act, enteredMs: number, ctx: Context): readonly Chlorine[] {
  if (act.type !== "hand-test") return [];
  const passed = resultOf(act, line.disinfectant);
  if (passed === null) return [];
  const { where, drums } = drumsTestedAt(line, act.place);
  return drums.flatMap((drum) => {
    const tests = testsOf(ctx.get(chlorineCell, drum.id));
    const { value, validFromMs } = act;
    const next = withTest(tests, where, { atMs: validFromMs ?? enteredMs, enteredMs, value, passed });
    if (next === tests) return [];
    const chlorine = chlorineOf(drum.id, carbonBefore(line, drum), next);
    ctx.put(chlorineCell, drum.id, chlorine);
    return [chlorine];
  });
}

/** Whether a drum is filled through the carbon that it was filled through in the line before; also where there was none. */
function isWhereItWas(drum: Drum, line: Line, was: Line | null): boolean {
  const before = was?.drums.find(({ id }) => id === drum.id);
  return was === null || (before !== undefined && carbonBefore(was, before) === carbonBefore(line, drum));
}

/** Whether chlorine passes the carbon, by tests: no probe of conductivity sees it. */
export function createChlorineStage(): Stage<Acted, Chlorine> {
  let line: Line | null = null;
  return {
    name: "chlorine",
    // 2: where the tests were taken.
    version: 2,
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
        if (isWhereItWas(drum, next, was)) continue;
        const last = carbonBefore(next, drum);
        const tests = behindCarbon(testsOf(known.get(drum.id)), last, known.values());
        if (Object.keys(tests).length > 0) ctx.put(chlorineCell, drum.id, chlorineOf(drum.id, last, tests));
      }
    },
    // Everything is in the cell.
    dirty: () => [],
    load: (_rows, fromVersion) => fromVersion >= 2,
    // Carbon that let chlorine through before the checkpoint was lost does so still.
    seed(records, ctx) {
      if (!line) return;
      for (const { atMs, act } of actsOf(records, ["hand-test"])) take(line, act, atMs, ctx);
      for (const drum of line.drums) {
        const known = ctx.get(chlorineCell, drum.id);
        if (!known) continue;
        const tests = withPlace(testsOf(known));
        ctx.put(chlorineCell, drum.id, chlorineOf(drum.id, carbonBefore(line, drum), tests));
      }
    },
  };
}
