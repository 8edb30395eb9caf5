import preact from "@preact/preset-vite";
import { defineConfig } from "vite";
import { compressed } from "./compressed.ts";
import { oneLanguage } from "./one-language.ts";
import { plainCalls } from "./plain-calls.ts";
import { plainImports } from "./plain-imports.ts";
import { shortWords } from "./short-words.ts";
import { shownWords } from "./shown-words.ts";

export default defineConfig({
  plugins: [oneLanguage(), shortWords(), shownWords(), plainImports(), preact(), plainCalls(), compressed()],
  build: {
    outDir: "dist",
    target: "es2023",
    modulePreload: false,
    // What the first page needs is one file: two pack worse.
    rolldownOptions: { output: { codeSplitting: { groups: [{ name: "first-page", tags: ["$initial"] }] } } },
  },
});
