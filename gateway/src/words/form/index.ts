export { bracesOf, fillIn, type Values } from "./fill-in.ts";
export { type Headlined, headlineOf } from "./headline.ts";
export { type Pairs, sayBy } from "./say-by.ts";
export { readSentence, type Said, type SentenceCode, say, sentences } from "./sentences.ts";
export type { Counting, Translated } from "./translated.ts";
