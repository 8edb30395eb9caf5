import { readSentence, type Values } from "@drumlin/gateway/words/form";
import { say, w } from "../words/words.ts";
import { asSet } from "./numbers.ts";
import { conductivity25, limitFigure, toShown, unitOf, volume } from "./units.ts";

/** Names under which sentences have conductivities at 25 °C. */
const conductivities = new Set(["worst", "blend"]);
const limits = new Set(["limit", "band"]);

/** How what stands in a sentence is shown: conductivities and litres in the unit of this device, other figures as numbers. */
function shown(values: Values): Values {
  return Object.fromEntries(
    Object.entries(values).map(([name, value]) => {
      if (typeof value === "string") return [name, value];
      if (name === "litres" || name === "over") return [name, volume(value)];
      if (name === "flow")
        return [name, `${asSet(Number(toShown("flow", value).toPrecision(3)))} ${unitOf("flow")}`];
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
  const words = own[said.code] ?? w.sentences[said.code];
  // Figures bring their own unit, the one of this device.
  return say(words.replaceAll(/\{(litres|over|flow)\} L(\/min)?/g, "{$1}"), shown(said.values));
}
