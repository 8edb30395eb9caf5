import { say, w } from "../words/words.ts";

/** Who did something, as the gateway names it, in words: a person by name, "program wall", "button by-the-resin". */
export function byWords(by: string): string {
  if (by === "command line") return w.frame.commandLine;
  if (by === "gateway") return w.names.gateway;
  const [, button] = /^button (.+)$/.exec(by) ?? [];
  if (button !== undefined) return say(w.frame.button, { name: button });
  const [, program] = /^program:(.+)$/.exec(by) ?? [];
  return program === undefined ? by : say(w.frame.program, { name: program });
}
