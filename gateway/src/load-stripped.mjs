// Read first by each thread of a gateway (`--import`): its modules are those whose types were stripped before it began.
import { readFileSync } from "node:fs";
import module from "node:module";
import { keptFileOf } from "./stripped.mjs";

function textOf(url) {
  const file = keptFileOf(url);
  if (file === undefined) return undefined;
  try {
    return readFileSync(file, "utf8");
  } catch {
    // It was changed since: Node strips it.
    return undefined;
  }
}

module.registerHooks({
  load(url, context, next) {
    const source = textOf(url);
    return source === undefined ? next(url, context) : { format: "module", source, shortCircuit: true };
  },
});
