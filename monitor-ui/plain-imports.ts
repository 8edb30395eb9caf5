import type { Plugin } from "vite";

/**
 * Later pages are imported as the browser does it. The helper that vite lays round each import loads their style sheets
 * and what they import first: there is one style sheet, and they import nothing that is not here.
 */
export function plainImports(): Plugin {
  return {
    name: "plain-imports",
    enforce: "pre",
    load: (id) =>
      id.endsWith("vite/preload-helper.js") ? "export const __vitePreload = (load) => load();" : undefined,
  };
}
