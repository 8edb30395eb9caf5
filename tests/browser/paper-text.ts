import { inflateSync } from "node:zlib";

/** Letters of one font, by glyph (ISO 32000-1, 9.10.3: ToUnicode CMaps). */
type Letters = ReadonlyMap<number, string>;

const hexOf = (text: string) => Number.parseInt(text, 16);
const wordOf = (hex: string) => Buffer.from(hex, "hex").swap16().toString("utf16le");

function lettersOf(cmap: string): Letters {
  const letters = new Map<number, string>();
  for (const [, block = ""] of cmap.matchAll(/beginbfchar([\s\S]*?)endbfchar/g))
    for (const [, glyph = "", word = ""] of block.matchAll(/<([0-9a-f]+)>\s*<([0-9a-f]+)>/gi))
      letters.set(hexOf(glyph), wordOf(word));
  for (const [, block = ""] of cmap.matchAll(/beginbfrange([\s\S]*?)endbfrange/g))
    for (const [, first = "", last = "", word = ""] of block.matchAll(
      /<([0-9a-f]+)>\s*<([0-9a-f]+)>\s*<([0-9a-f]+)>/gi,
    ))
      for (let glyph = hexOf(first); glyph <= hexOf(last); glyph += 1)
        letters.set(glyph, String.fromCodePoint(hexOf(word) + glyph - hexOf(first)));
  return letters;
}

/** A text without its spaces, and ligatures, which are letters of their own on paper, as their letters. */
export const plainOf = (text: string): string => text.normalize("NFKC").replace(/\s+/g, "");

/** What stands on each page of a PDF that Chromium made: its letters in their order, without spaces. */
export function paperText(pdf: Buffer): string {
  const objects = new Map<string, { readonly head: string; readonly stream: Buffer | null }>();
  const text = pdf.toString("latin1");
  for (const match of text.matchAll(/(\d+) 0 obj\s([\s\S]*?)endobj/g)) {
    const [, id = "", body = ""] = match;
    const at = body.indexOf("stream\n");
    const head = at < 0 ? body : body.slice(0, at);
    if (at < 0) {
      objects.set(id, { head, stream: null });
      continue;
    }
    const begin = (match.index ?? 0) + match[0].indexOf("stream\n") + "stream\n".length;
    const bytes = pdf.subarray(begin, begin + Number(/\/Length (\d+)/.exec(head)?.[1] ?? 0));
    objects.set(id, { head, stream: head.includes("/FlateDecode") ? inflateSync(bytes) : bytes });
  }
  const fonts = new Map<string, Letters>();
  for (const { head } of objects.values())
    for (const [, name = "", id = ""] of head.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      const toUnicode = /\/ToUnicode (\d+) 0 R/.exec(objects.get(id)?.head ?? "")?.[1];
      const cmap = toUnicode === undefined ? undefined : objects.get(toUnicode)?.stream?.toString("latin1");
      if (cmap !== undefined) fonts.set(name, lettersOf(cmap));
    }
  const said: string[] = [];
  for (const { head, stream } of objects.values()) {
    if (stream === null || /\/(Subtype \/Image|FontFile|Length1|Type \/XRef)/.test(head)) continue;
    let letters: Letters = new Map();
    for (const [, font, shown] of stream
      .toString("latin1")
      .matchAll(/\/(F\d+) [\d.]+ Tf|(\[[^\]]*\]\s*TJ|<[0-9a-fA-F]+>\s*Tj)/g)) {
      if (font !== undefined) letters = fonts.get(font) ?? new Map();
      else
        for (const [, run = ""] of (shown ?? "").matchAll(/<([0-9a-fA-F]+)>/g))
          for (const glyph of run.match(/.{4}/g) ?? []) said.push(letters.get(hexOf(glyph)) ?? "");
    }
  }
  return plainOf(said.join(""));
}
