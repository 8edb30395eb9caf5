import type { Plugin } from "vite";

const condition = /\/words\/conditions\/[\w-]+\.ts(?:\?(\w+))?$/;
const without = (keys: string) => new RegExp(`^\\s+(?:${keys}):\\s*"(?:[^"\\\\]|\\\\.)*",\\n`, "gm");
/** What no page shows: it stands in messages. */
const notShown = "cause|consequence";
/** What the gateway says in English with each alarm. */
const saidByGateway = "response|after";

/** Leaves out of the page what it does not show of a condition, and in English what comes with each alarm. */
export function shownWords(): Plugin {
  return {
    name: "shown-words",
    apply: "build",
    enforce: "pre",
    transform(code, id) {
      const found = condition.exec(id);
      if (!found) return null;
      const keys = found[1] === "en" ? `${notShown}|${saidByGateway}` : notShown;
      const shown = code.replaceAll(without(keys), "");
      if (new RegExp(`^\\s+(?:${keys}):`, "m").test(shown))
        this.error("A text of a condition is not written as it was.");
      return { code: shown, map: null };
    },
  };
}
