const literal = (text: string) => text.replaceAll(/[.*+?^${}()|[\]\\]/g, "\\$&");
const brace = /\{(?:\w+)\}/;

/** What reads a template's sentences back: a pattern of the whole text, and the names of its braces in their order. */
export function patternOf(template: string): { readonly pattern: RegExp; readonly names: readonly string[] } {
  return {
    names: [...template.matchAll(/\{(\w+)\}/g)].map(([, name]) => name as string),
    pattern: new RegExp(`^${template.split(brace).map(literal).join("(.+?)")}$`, "u"),
  };
}
