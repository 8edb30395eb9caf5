import type { Plugin } from "vite";

const isCondition = /\/words\/conditions\/[\w-]+\.ts(?:\?\w+)?$/;
const notShown = /^\s+(?:cause|consequence):\s*"(?:[^"\\]|\\.)*",\n/gm;

/** Leaves causes and consequences of conditions out of the page: it says what is so and what to do, the rest stands in messages. */
export function shownWords(): Plugin {
  return {
    name: "shown-words",
    apply: "build",
    enforce: "pre",
    transform(code, id) {
      if (!isCondition.test(id)) return null;
      const shown = code.replaceAll(notShown, "");
      if (/\b(cause|consequence):/.test(shown))
        this.error("A cause or consequence is not written as it was.");
      return { code: shown, map: null };
    },
  };
}
