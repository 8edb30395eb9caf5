import type { Plugin } from "vite";

/** The build writes elements as calls with their children behind the properties: less to load than children among them. */
export function plainCalls(): Plugin {
  return {
    name: "plain-calls",
    apply: "build",
    enforce: "post",
    config: () => ({
      oxc: {
        jsx: { runtime: "classic", pragma: "jsxCall", pragmaFrag: "JsxMany" },
        jsxInject: `import { h as jsxCall, Fragment as JsxMany } from "preact";`,
      },
    }),
  };
}
