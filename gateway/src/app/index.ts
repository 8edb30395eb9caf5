export { main } from "./command-line.ts";
