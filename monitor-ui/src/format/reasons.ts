import { readSentence, type Values } from "@drumlin/gateway/words/form";
import { say, w } from "../words/words.ts";
import { asSet } from "./numbers.ts";
import { conductivity25, limitFigure, unitOf, volume } from "./units.ts";

/** Names under which sentences have conductivities at 25 °C. */
const conductivities = new Set(["worst", "blend"]);
const limits = new Set(["limit", "band"]);

/** How what stands in a sentence is shown: conductivities and litres in the unit of this device, other figures as numbers. */
function shown(values: Values): Values {
  return Object.fromEntries(
    Object.entries(values).map(([name, value]) => {
      if (typeof value === "string") return [name, value];
      if (name === "litres") return [name, volume(value)];
      if (limits.has(name)) return [name, `${limitFigure(value, "uS/cm")} ${unitOf("conductivity25")}`];
      return [name, conductivities.has(name) ? conductivity25(value) : asSet(value)];
    }),
  );
}

/** A sentence of the gateway in the words of the page; one that it does not know stays as it came. */
export function sentenceOf(text: string): string {
  const said = readSentence(text);
  if (!said) return text;
  const own: Readonly<Record<string, string>> = w.drum.reasons;
  return say(own[said.code] ?? w.sentences[said.code], shown(said.values));
}
