import { z } from "zod";
import { type Act, type ActKind, acts } from "../../acts/index.ts";

/** A kind of act as the command line knows it. */
export type AnyAct = ActKind<Act>;

/** One thing that is told with an act. */
export interface ActField {
  readonly name: string;
  /** It stands in the path of the call, else in what is sent. */
  readonly inPath: boolean;
  readonly needed: boolean;
  readonly kind: "number" | "flag" | "words" | "list" | "text";
  readonly words: readonly string[];
  readonly about: string;
}

interface JsonField {
  readonly type?: string;
  readonly enum?: readonly string[];
  readonly format?: string;
  readonly description?: string;
}

interface JsonObject {
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, JsonObject>>;
  readonly properties?: Readonly<Record<string, JsonField>>;
  readonly required?: readonly string[];
}

/** Its name at the command line: its type, or the end of its path where one call gives several. */
export function actName({ types, path }: AnyAct): string {
  return types.length === 1 ? (types[0] as string) : path.slice(path.lastIndexOf("/") + 1);
}

/** The kind of act of that name. */
export function actOfName(name: string): AnyAct | undefined {
  return acts.find((kind) => actName(kind) === name);
}

function kindOf({ type, enum: words }: JsonField): ActField["kind"] {
  if (words) return "words";
  if (type === "number" || type === "integer") return "number";
  if (type === "boolean") return "flag";
  return type === "array" || type === "object" ? "list" : "text";
}

/** What an act takes: what stands in its path first. */
export function fieldsOf({ path, schema }: AnyAct): readonly ActField[] {
  const whole = z.toJSONSchema(schema, { io: "input" }) as JsonObject;
  const body = whole.$ref ? (whole.$defs?.[whole.$ref.slice("#/$defs/".length)] ?? whole) : whole;
  const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(
    ([, name]): ActField => ({
      name: name as string,
      inPath: true,
      needed: true,
      kind: "text",
      words: [],
      about: "",
    }),
  );
  const sent = Object.entries(body.properties ?? {}).map(
    ([name, field]): ActField => ({
      name,
      inPath: false,
      needed: body.required?.includes(name) ?? false,
      kind: kindOf(field),
      words: field.enum ?? [],
      about: field.description ?? (field.format === "date-time" ? "a time with its offset" : ""),
    }),
  );
  return [...inPath, ...sent];
}

/** What stands for a text in an example. */
const samples: Readonly<Record<string, string>> = {
  key: "resin-breakthrough:after-resin",
  occurrence: "4711/resin-breakthrough:after-resin/1",
  id: "mix",
  kind: "drum",
  stage: "resin",
  float: "mix.stop",
  channel: "press/ec-2",
  text: '"new hose on the mix drum"',
  points: `'[{"read": 1380, "true": 1413}]'`,
  place: `'{"kind": "point", "id": "after-carbon"}'`,
};

function sampleOf({ name, kind, words }: ActField): string {
  if (kind === "words")
    return words.includes(samples[name] ?? "") ? (samples[name] as string) : (words[0] as string);
  if (kind === "number") return "30";
  if (kind === "flag") return "true";
  return samples[name] ?? name.toUpperCase();
}

/** One line that could be typed: with everything that is needed, but for an occurrence, which is found. */
export function exampleOf(act: AnyAct): string {
  const given = fieldsOf(act)
    .filter(({ needed, name }) => needed && name !== "occurrence")
    .map((field) => `${field.name}=${sampleOf(field)}`);
  return ["drumlin act", actName(act), ...given].join(" ");
}

function takesText({ kind, words }: ActField): string {
  if (kind === "words") return words.join(" | ");
  if (kind === "flag") return "true | false";
  return kind === "list" ? "JSON" : kind;
}

/** Help of one act: what it takes, and an example. */
export function actHelp(act: AnyAct): string {
  const fields = fieldsOf(act);
  const width = Math.max(...fields.map(({ name }) => name.length));
  const rows = fields.map((field) => {
    const found = field.name === "occurrence" ? "else the one that stands now" : field.about;
    const needed = field.needed && field.name !== "occurrence" ? "" : " (optional)";
    return `  ${field.name.padEnd(width)}  ${takesText(field)}${needed}${found === "" ? "" : `; ${found}`}`;
  });
  return [`${actName(act)}: ${act.summary}`, "", ...rows, "", `Example: ${exampleOf(act)}`].join("\n");
}
