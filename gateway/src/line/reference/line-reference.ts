import { z } from "zod";
import type { Language } from "../../words/index.ts";
import { lineFileSchema } from "../schema.ts";
import { drumsKeys, settingsKeys } from "./drum-keys.ts";
import { inGerman } from "./german-reference.ts";
import type { KeyText, KeyTexts, LineKey, LineKeySection } from "./key-text.ts";
import { notifyKeys } from "./notify-keys.ts";
import { pointsKeys, siteKeys } from "./site-keys.ts";
import { besidesKeys, stagesKeys } from "./stage-keys.ts";

/** Parts of the reference, in the order of the file. */
const sectionTexts: readonly { readonly title: string; readonly keys: KeyTexts }[] = [
  { title: "The site", keys: siteKeys },
  { title: "Points", keys: pointsKeys },
  { title: "Stages", keys: stagesKeys },
  { title: "Drums", keys: drumsKeys },
  { title: "A channel's settings", keys: settingsKeys },
  { title: "Beside the water", keys: besidesKeys },
  { title: "Who is told", keys: notifyKeys },
];

interface Shape {
  readonly type?: string | readonly string[];
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly default?: unknown;
  readonly pattern?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly properties?: Readonly<Record<string, Shape>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: Shape | false;
  readonly items?: Shape;
  readonly anyOf?: readonly Shape[];
}

/** A key where it stands in the schema. */
export interface SchemaKey {
  readonly path: string;
  readonly shape: Shape;
  readonly isNeeded: boolean;
}

const isChannelSettings = ({ properties }: Shape): boolean => properties?.channel !== undefined;
const isChannelForm = ({ anyOf }: Shape): boolean => (anyOf ?? []).some(isChannelSettings);

/**
 * Every key of the file, once. What a channel can carry stands under `channel`, wherever a channel may be written as
 * text or with settings.
 */
export function schemaKeys(): readonly SchemaKey[] {
  const found = new Map<string, SchemaKey>();
  const walk = (shape: Shape, path: string): void => {
    for (const form of shape.anyOf ?? []) walk(form, isChannelForm(shape) ? "channel." : path);
    for (const [key, inner] of Object.entries(shape.properties ?? {})) {
      const at = `${path}${key}`;
      if (!found.has(at))
        found.set(at, { path: at, shape: inner, isNeeded: shape.required?.includes(key) ?? false });
      walk(inner, `${at}.`);
    }
    if (shape.additionalProperties) walk(shape.additionalProperties, `${path}*.`);
    if (shape.items) walk(shape.items, `${path}[].`);
  };
  walk(z.toJSONSchema(lineFileSchema, { io: "input" }) as Shape, "");
  return [...found.values()];
}

function numberText({ minimum, maximum, exclusiveMinimum, type }: Shape): string {
  const kind = type === "integer" ? "whole number" : "number";
  const isBounded = maximum !== undefined && maximum < Number.MAX_SAFE_INTEGER;
  if (isBounded && minimum !== undefined) return `${kind} from ${minimum} to ${maximum}`;
  if (exclusiveMinimum !== undefined) return `${kind} over ${exclusiveMinimum}`;
  return kind;
}

function textOf(shape: Shape): string {
  if (shape.pattern?.includes("/")) return shape.pattern.startsWith("^[a-z0-9]") ? "node/channel" : "text";
  if (shape.pattern?.includes(":")) return '"hh:mm"';
  return shape.pattern?.startsWith("^[a-z0-9]") ? "name" : "text";
}

/** What a key takes, in words. */
function takesOf(shape: Shape): string {
  if (shape.const !== undefined) return String(shape.const);
  if (shape.enum) return shape.enum.map(String).join(" | ");
  if (isChannelForm(shape)) return "node/channel, or its settings";
  if (shape.anyOf) return [...new Set(shape.anyOf.map(takesOf))].join(" | ");
  if (Array.isArray(shape.type)) return "quantity";
  switch (shape.type) {
    case "string":
      return textOf(shape);
    case "number":
    case "integer":
      return numberText(shape);
    case "boolean":
      return "true | false";
    case "array":
      return "list";
    default:
      return shape.additionalProperties ? "names, each with what belongs to it" : "settings";
  }
}

function defaultOf(shape: Shape): string | null {
  const value = shape.default;
  return value === undefined || typeof value === "object" ? null : String(value);
}

function keyOf({ path, shape, isNeeded }: SchemaKey, text: KeyText): LineKey {
  return {
    path,
    takes: takesOf(shape),
    isNeeded,
    what: text.what,
    unit: text.unit ?? null,
    otherwise: text.otherwise ?? defaultOf(shape),
    example: text.example,
  };
}

/**
 * Every key of the line file: what it is, what it takes, its unit, what holds without it, an example. In the order of
 * the file. Keys, values and examples are the file's own in every language.
 */
export function lineReference(language: Language = "en"): readonly LineKeySection[] {
  const keys = new Map(schemaKeys().map((key) => [key.path, key]));
  const sections = sectionTexts.map(({ title, keys: texts }) => ({
    title,
    keys: texts.flatMap(([path, text]) => {
      const key = keys.get(path);
      return key ? [keyOf(key, text)] : [];
    }),
  }));
  return language === "de" ? inGerman(sections) : sections;
}
