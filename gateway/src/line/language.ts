export { type Language, languages } from "../words/index.ts";
