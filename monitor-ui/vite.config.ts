import preact from "@preact/preset-vite";
import { defineConfig } from "vite";

export default defineConfig({
  plugins: [preact()],
  build: { outDir: "dist", target: "es2022", modulePreload: { polyfill: false } },
});
