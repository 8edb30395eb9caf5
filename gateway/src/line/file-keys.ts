import { z } from "zod";
import { lineFileSchema } from "./schema.ts";

let whole: JsonShape | null = null;
let keys: readonly string[] | null = null;

/** Made once: it takes milliseconds, and each wrong key asks. */
function wholeShape(): JsonShape {
  whole ??= z.toJSONSchema(lineFileSchema, { io: "input" }) as JsonShape;
  return whole;
}

/** Every key that a line file can hold somewhere, in the order of the schema: to guess what a wrong one meant. */
export function keysOfTheFile(): readonly string[] {
  keys ??= [...propertiesIn(wholeShape())];
  return keys;
}

type JsonShape = {
  readonly properties?: Readonly<Record<string, JsonShape>>;
  readonly additionalProperties?: JsonShape | false;
  readonly items?: JsonShape;
  readonly anyOf?: readonly JsonShape[];
};

/** The keys that may stand at a place of the file; none where any name may, or where the place holds no keys. */
export function keysAt(path: readonly PropertyKey[]): readonly string[] {
  let shapes: readonly JsonShape[] = [wholeShape()];
  for (const step of path)
    shapes = shapes
      .flatMap((shape) => shape.anyOf ?? [shape])
      .flatMap(({ properties, additionalProperties, items }) => [
        ...(properties && Object.hasOwn(properties, step) ? [properties[String(step)] as JsonShape] : []),
        ...(additionalProperties ? [additionalProperties] : []),
        ...(items ? [items] : []),
      ]);
  return shapes
    .flatMap((shape) => shape.anyOf ?? [shape])
    .flatMap(({ properties }) => Object.keys(properties ?? {}));
}

function propertiesIn(schema: unknown, found = new Set<string>()): ReadonlySet<string> {
  if (typeof schema !== "object" || schema === null) return found;
  for (const [key, inner] of Object.entries(schema)) {
    if (key === "properties") for (const name of Object.keys(inner as object)) found.add(name);
    propertiesIn(inner, found);
  }
  return found;
}
