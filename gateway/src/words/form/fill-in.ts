/** What stands in a template's braces, by name. */
export type Values = Readonly<Record<string, string | number>>;

/** A template with its braces filled: `fillIn("{drum}: wet", { drum: "Mix" })`. A brace without a value stays as it is. */
export function fillIn(template: string, values: Values): string {
  return template.replaceAll(/\{(\w+)\}/g, (brace, name: string) =>
    Object.hasOwn(values, name) ? String(values[name]) : brace,
  );
}

/** Names in the braces of a template, sorted. */
export function bracesOf(template: string): readonly string[] {
  return [...template.matchAll(/\{(\w+)\}/g)].map(([, name]) => name as string).sort();
}
