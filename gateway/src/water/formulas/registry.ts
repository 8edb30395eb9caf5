import { conductivityFormulas } from "./conductivity.ts";
import type { Formula } from "./formula.ts";

/** Every formula that can be asked for by name, by topic. */
export const formulas: readonly Formula[] = [...conductivityFormulas];
