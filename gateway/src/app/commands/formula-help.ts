import { unitText } from "../../quantities/index.ts";
import { compute, type FieldShape, type Formula, shapesOf, tradeWordsFor } from "../../water/index.ts";

/** Beyond it a range is no range but what a computer can hold. */
const anyNumber = 1e12;
const widestTakes = 34;

const unitOf = (unit: string | null | undefined) => unitText(unit ?? "1");

function rangeText({ min, max, whole }: FieldShape): string {
  const number = whole ? "whole number" : "number";
  if (max >= anyNumber) return min <= -anyNumber ? `any ${number}` : `${number} from ${min}`;
  return `${whole ? "whole, " : ""}${min} to ${max}`;
}

/** What an input takes or an output gives: "uS/cm, 0 to 1000", "fresh | salt", "list of 1 to 1000: L, 0.001 to 1000000". */
function takesText(shape: FieldShape, isInput: boolean): string {
  const orNull = shape.nullable ? " or null" : "";
  switch (shape.kind) {
    case "number": {
      const parts = [unitOf(shape.unit), isInput ? rangeText(shape) : ""].filter((part) => part !== "");
      return `${parts.join(", ") || "number"}${orNull}`;
    }
    case "words": {
      const words = `${shape.words.join(" | ")}${orNull}`;
      return unitOf(shape.unit) === "" ? words : `${unitOf(shape.unit)}, ${words}`;
    }
    case "flag":
      return "true | false";
    case "text":
      return "text";
    case "record":
      return `{${[...shape.fields].map(([name, field]) => `${name}: ${takesText(field, isInput)}`).join("; ")}}`;
    case "list": {
      const count = shape.fewest === shape.most ? `${shape.most}` : `${shape.fewest} to ${shape.most}`;
      const item = shape.item ? takesText(shape.item, isInput) : "anything";
      return isInput ? `list of ${count}: ${item}` : `list: ${item}`;
    }
  }
}

function aboutText(shape: FieldShape, isInput: boolean): string {
  const inner = [...(shape.item?.fields ?? [])].map(([name, field]) => `${name}: ${field.description}`);
  const text = [shape.description, ...inner].filter((part) => part !== "").join("; ");
  if (shape.needed) return text;
  if (!isInput) return `${text} (not always)`;
  return shape.otherwise === undefined ? `${text} (optional)` : `${text} (optional, else ${shape.otherwise})`;
}

function fieldLines(shapes: ReadonlyMap<string, FieldShape>, isInput: boolean): string[] {
  const rows = [...shapes].map(([name, shape]) => ({
    name,
    takes: takesText(shape, isInput),
    about: aboutText(shape, isInput),
  }));
  const nameWidth = Math.max(...rows.map(({ name }) => name.length));
  const takesWidth = Math.min(widestTakes, Math.max(...rows.map(({ takes }) => takes.length)));
  return rows.map(({ name, takes, about }) => {
    const left = `  ${name.padEnd(nameWidth)}  ${takes.padEnd(takesWidth)}`;
    // What takes more room than the column gets its words on the next line, below those of the others.
    const gap = takes.length > takesWidth ? `\n${" ".repeat(4 + nameWidth + takesWidth + 2)}` : "  ";
    return `${left}${about === "" ? "" : gap}${about}`.trimEnd();
  });
}

function argumentText(value: unknown): string {
  if (typeof value === "string") return value;
  const isPlainList =
    Array.isArray(value) && value.every((item) => typeof item !== "object" || item === null);
  return isPlainList ? value.join(", ") : JSON.stringify(value);
}

/** The arguments of a formula's example, as a shell would hand them over: `kappa=300 uS/cm`. */
function exampleArguments({ example }: Formula): string[] {
  return Object.entries(example).map(
    ([name, value]) =>
      `${name}=${Array.isArray(value) && value.includes(null) ? value.map(String).join(", ") : argumentText(value)}`,
  );
}

/** As it is typed: quoted where the shell would take it apart. */
function typed(argument: string): string {
  const at = argument.indexOf("=") + 1;
  const value = argument.slice(at);
  if (/^[\w.,:/+-]+$/.test(value)) return argument;
  return value.includes('"') || value.includes("$")
    ? `${argument.slice(0, at)}'${value}'`
    : `${argument.slice(0, at)}"${value}"`;
}

function valueText(value: unknown, unit: string | undefined): string {
  const round = (number: number) => Number(number.toPrecision(7));
  const text =
    typeof value === "string"
      ? value
      : JSON.stringify(value, (_key, inner) => (typeof inner === "number" ? round(inner) : inner));
  return value === null || unitOf(unit) === "" ? text : `${text} ${unitOf(unit)}`;
}

/** What a formula gave, a line for each value: "kappa25: 428.3522 uS/cm". */
export function valueLines(
  values: Readonly<Record<string, unknown>>,
  units: Readonly<Record<string, string>>,
): string[] {
  return Object.entries(values)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => `${name}: ${valueText(value, units[name])}`);
}

function exampleLines(formula: Formula): string[] {
  const computed = compute(formula.id, formula.example);
  const command = `drumlin compute ${formula.id} ${exampleArguments(formula).map(typed).join(" ")}`;
  const gives = computed.ok ? valueLines(computed.values, computed.units) : [computed.message];
  return [command, ...gives].map((line) => `  ${line}`);
}

/** The help of one formula: what it computes, where it holds, its inputs and outputs, and an example with what it gives. */
export function formulaHelp(formula: Formula): string {
  const words = tradeWordsFor(formula.id).map(({ word, meaning }) => `${word} (${meaning})`);
  return [
    `drumlin compute ${formula.id}`,
    formula.title,
    "",
    formula.holds,
    `Source: ${formula.source}`,
    ...(words.length > 0 ? [`Found by: ${words.join(", ")}`] : []),
    "",
    "Inputs",
    ...fieldLines(shapesOf(formula.inputs), true),
    "Gives",
    ...fieldLines(shapesOf(formula.outputs), false),
    "",
    "Example",
    ...exampleLines(formula),
  ].join("\n");
}
