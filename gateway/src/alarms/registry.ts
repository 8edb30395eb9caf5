import type { AnyCondition } from "./condition.ts";
import { drumHighHigh } from "./conditions/drum-high-high.ts";
import { drumNotStopping } from "./conditions/drum-not-stopping.ts";
import { resinBreakthrough } from "./conditions/resin-breakthrough.ts";

/** Every condition that is judged. A new one is a file in `conditions/` and a line here. */
export const conditionRows: readonly AnyCondition[] = [resinBreakthrough, drumNotStopping, drumHighHigh];
