import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { expect, it } from "vitest";

const root = fileURLToPath(new URL("../../../monitor-ui/src/", import.meta.url));

/** Names that are the same in every language. */
const names = new Set(["Drumlin", "InfluxDB", "CSV", "µS/cm", "mg/L", "English", "Deutsch"]);
/** What is kept or written in the gateway's own words. */
const kept = new Set(["taken back", "command line", "notify"]);
/** Attributes that somebody reads or hears. */
const read = new Set(["aria-label", "alt", "title", "placeholder", "label", "hint", "says", "words", "done"]);
/** Attributes that nobody does. */
const unread = new Set(["class", "d", "style", "viewBox", "sizes"]);
/** What people don't read: classes, drawn paths, addresses, queries of the page's own elements. */
const isCode = (text: string) => /^[.#<]|[=>]$|^--|drumlin\/1\//.test(text.trim());

/** Texts of a file that stand in it as they are read, though no catalogue has them. */
export function literalTexts(name: string, code: string): string[] {
  const file = ts.createSourceFile(name, code, ts.ScriptTarget.Latest, true, ts.ScriptKind.TSX);
  const found: string[] = [];
  const take = (text: string, isRead: boolean) => {
    const said = text.trim();
    if (!/\p{L}{2}/u.test(said) || names.has(said) || kept.has(said)) return;
    // In code a text is one that has two words, the first of them with a capital or with a full stop behind them.
    const isSentence = /\p{L}{2,} \p{L}{2,}/u.test(said) && !isCode(said);
    if (isRead || isSentence) found.push(said);
  };
  const walk = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isTypeNode(node)) return;
    if (ts.isJsxText(node)) take(node.text, true);
    else if (ts.isJsxAttribute(node)) {
      const own = node.name.getText(file);
      const { initializer } = node;
      if (unread.has(own)) return;
      if (initializer && ts.isStringLiteral(initializer)) take(initializer.text, read.has(own));
      else if (initializer) walk(initializer);
      return;
    } else if (
      ts.isStringLiteralLike(node) ||
      ts.isTemplateHead(node) ||
      ts.isTemplateMiddleOrTemplateTail(node)
    ) {
      take(node.text, false);
    }
    ts.forEachChild(node, walk);
  };
  walk(file);
  return found;
}

const sources = readdirSync(root, { recursive: true, encoding: "utf8" }).filter(
  (name) => /\.tsx?$/.test(name) && !name.startsWith("words"),
);

it("no page has a text of its own: every word stands in the catalogue, which has each in two languages", () => {
  expect(sources.length).toBeGreaterThan(100);
  const found = sources.flatMap((name) =>
    literalTexts(name, readFileSync(`${root}${name}`, "utf8")).map((text) => `${name}: ${text}`),
  );
  expect(found).toEqual([]);
});

it.each([
  ["<p>Saved</p>", ["Saved"]],
  ['<button aria-label="Close it" />', ["Close it"]],
  ["<p>{isOn ? 'Nothing heard yet' : ''}</p>", ["Nothing heard yet"]],
  ["const why = 'nothing heard yet';", ["nothing heard yet"]],
  ["const why = `Not while ` + name + ` runs here.`;", ["Not while", "runs here."]],
  ['<p class="soft sm small">{w.frame.saved}</p>', []],
])("%s", (code, expected) => expect(literalTexts("a.tsx", code)).toEqual(expected));
