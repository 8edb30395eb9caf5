import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { shortWords } from "../../../monitor-ui/short-words.ts";

const root = fileURLToPath(new URL("../../../monitor-ui/", import.meta.url));

type Hook = (this: unknown, ...given: readonly unknown[]) => unknown;

function built(code: string, path: string): string {
  const plugin = shortWords() as unknown as { readonly configResolved: Hook; readonly transform: Hook };
  plugin.configResolved({ root });
  return (plugin.transform(code, `${root}src/${path}`) as { readonly code: string }).code;
}

const english = `export const derivation = {\n  title: "How it is found",\n`;

describe("the short names of the page's words", () => {
  it("are the same in the list, in another language's list and where a word is shown", () => {
    const [listed] = /^ {2}(\w+):/m.exec(built(english, "words/en/derivation.ts"))?.slice(1) ?? [];
    const german = english.replace("derivation =", "derivation: Translated<typeof english> =");
    expect(built(german, "words/de/derivation.ts")).toContain(`  ${listed}: "How it is found"`);
    const area = / as (\w+) /.exec(
      built(`export { derivation } from "./derivation.ts";`, "words/en/index.ts"),
    )?.[1];
    expect(listed?.length).toBeLessThan(3);
    expect(built("say(w.derivation.title)", "components/card.tsx")).toBe(`say(w.${area}.${listed})`);
  });

  it("a word that is taken otherwise than by its name fails the build", () => {
    expect(() => built("const { title } = w.derivation;", "components/card.tsx")).toThrow(/w\.derivation/);
    expect(() => built("w.derivation[key]", "components/card.tsx")).toThrow(/w\.derivation/);
    expect(() => built("w.derivation.nothing", "components/card.tsx")).toThrow(/nothing/);
  });

  it("areas whose words are taken by a name keep the words' names", () => {
    expect(built("w.moreWords[name]", "components/settings-form.tsx")).toMatch(/^w\.\w{1,2}\[name\]$/);
    expect(built("w.frame.save", "components/settings-form.tsx")).toMatch(/^w\.\w{1,2}\.save$/);
    expect(built("w.verdicts[verdict]", "format/words.ts")).toBe("w.verdicts[verdict]");
  });
});
