import { defineCell, type Stage } from "../path/index.ts";
import type { WorldEntry, WorldFact } from "./entry.ts";

/** A fact of the world as it is now. */
export interface WorldNow extends WorldFact {
  /** Since when it is so, engine time, and what it was before; null: it was not told. */
  readonly sinceMs: number;
  readonly was: WorldFact["value"];
}

/** Facts of the world, by `worldKey`. */
export const worldCell = defineCell<WorldNow>("world");

/** The name of a fact among all. */
export const worldKey = ({ part, fact }: Pick<WorldFact, "part" | "fact">): string => `${part}/${fact}`;

/** Keeps what the gateway saw of the world. */
export function createWorldStage(): Stage<WorldEntry, never> {
  return {
    name: "world",
    version: 1,
    owns: [worldCell],
    reads: [],
    hears: {
      world({ part, fact, value }, ctx) {
        const key = worldKey({ part, fact });
        const before = ctx.get(worldCell, key);
        ctx.put(worldCell, key, { part, fact, value, sinceMs: ctx.nowMs, was: before?.value ?? null });
      },
    },
    // Everything is in the cell.
    dirty: () => [],
    load: () => true,
  };
}
