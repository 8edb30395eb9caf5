// A path of three stages that is small enough to see through.
import type { Act } from "@drumlin/gateway/acts";
import {
  type AnyStage,
  Composer,
  defineCell,
  type PathEntry,
  type PathEvent,
  type Records,
  type Stage,
} from "@drumlin/gateway/path";

interface Drop extends PathEvent {
  readonly kind: "drop";
  readonly litres: number;
  readonly tMs: number;
}
interface Full extends PathEvent {
  readonly kind: "full";
}
export const nothing: Records = { last: () => [], list: () => [] };
export const litres = defineCell<number>("litres");
const words = defineCell<string>("words");

/** Entries of kind "message" carry drops; each drop is told under its own time. */
export const tap: Stage<
  PathEvent & { kind: "message"; drops: readonly [tMs: number, litres: number][] },
  Drop
> = {
  name: "tap",
  version: 1,
  owns: [],
  reads: [],
  stepMs: ({ tMs }) => tMs,
  hears: {
    message({ drops }, ctx) {
      for (const [tMs, amount] of drops) ctx.tell({ kind: "drop", litres: amount, tMs });
    },
  },
  dirty: () => [],
  load: () => true,
};

export function vessel(): AnyStage {
  let total = 0;
  let isDirty = false;
  const stage: Stage<Drop | (PathEvent & { kind: "act"; act: Act }), Full> = {
    name: "vessel",
    version: 2,
    owns: [litres],
    reads: [],
    acts: ["note"],
    hears: {
      drop(drop, ctx) {
        total += drop.litres;
        isDirty = true;
        ctx.put(litres, "a", total);
        ctx.wakeAt("idle", ctx.nowMs + 100);
        if (total >= 10) ctx.tell({ kind: "full" });
      },
      act() {
        total = 0;
        isDirty = true;
      },
    },
    admit: (act) =>
      act.type === "note" && act.text === "no" ? { code: "not-possible-in-state", message: "no" } : null,
    wake(_key, ctx) {
      ctx.tell({ kind: "full" });
    },
    *dirty() {
      if (isDirty) yield ["total", total];
      isDirty = false;
    },
    load(rows, version) {
      if (version !== 2) return false;
      total = (rows.get("total") as number | undefined) ?? 0;
      return true;
    },
    seed() {
      total = 5;
    },
  };
  return stage;
}

/** Says each step's total once. */
export function speaker(seen: string[]): AnyStage {
  const stage: Stage<Drop | Full, PathEvent> = {
    name: "speaker",
    version: 1,
    owns: [words],
    reads: [litres],
    hears: {
      drop() {},
      full(_event, ctx) {
        seen.push(`full at ${ctx.nowMs}`);
      },
    },
    afterStep(ctx) {
      seen.push(`${ctx.get(litres, "a")} L`);
      ctx.put(words, "a", String(ctx.get(litres, "a")));
    },
    dirty: () => [],
    load: () => true,
  };
  return stage;
}

export const message = (seq: number, receivedAt: number, ...drops: readonly [number, number][]) =>
  ({ seq, receivedAt, kind: "message", drops }) as PathEntry;

export function path(seen: string[] = []) {
  const out: PathEvent[] = [];
  const composer = new Composer({ stages: [tap, vessel(), speaker(seen)], readLine: () => null });
  return {
    composer,
    seen,
    out,
    push: (entry: PathEntry) => composer.push(entry, (event) => out.push(event)),
  };
}
