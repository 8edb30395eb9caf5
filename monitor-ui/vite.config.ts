import preact from "@preact/preset-vite";
import { defineConfig } from "vite";
import { compressed } from "./compressed.ts";

export default defineConfig({
  plugins: [preact(), compressed()],
  build: { outDir: "dist", target: "es2022", modulePreload: { polyfill: false } },
});
