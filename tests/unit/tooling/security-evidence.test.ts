import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const text = readFileSync(join(root, "SECURITY.md"), "utf8");
const tests = readdirSync(join(root, "tests"), { recursive: true, encoding: "utf8" }).map((name) =>
  name.replaceAll("\\", "/"),
);
const attacks = new Set([
  "kills",
  ...[
    ...readFileSync(join(root, "tests/soak/attack/attacker.ts"), "utf8").matchAll(
      /^ {2}(?:async )?"?([a-z-]+)"?\(\) \{$/gm,
    ),
  ].map((match) => match[1] as string),
]);

/** `tests/unit/accounts/{accounts,attempts}` names two. */
function expanded(name: string): string[] {
  const match = /^(.*)\{([^}]+)\}(.*)$/.exec(name);
  return match ? (match[2] as string).split(",").map((one) => `${match[1]}${one}${match[3]}`) : [name];
}

const endings = ["", ".ts", ".test.ts", ".test.tsx"];
const isFile = (name: string) => endings.some((ending) => existsSync(join(root, name + ending)));
const isTest = (name: string) => tests.some((file) => endings.some((end) => file.endsWith(`/${name}${end}`)));

/** What stands in code signs, with its line. */
function named(pattern: RegExp): (readonly [name: string, line: number])[] {
  return text
    .split("\n")
    .flatMap((line, place) =>
      [...line.matchAll(/`([^`]+)`/g)].map((match) => [match[1] as string, place + 1] as const),
    )
    .filter(([name]) => pattern.test(name))
    .flatMap(([name, line]) => expanded(name).map((one) => [one, line] as const));
}

/** Rows of a table under a heading, its cells trimmed. */
function rowsUnder(heading: string): string[][] {
  const part = text.split(/^## /m).find((one) => one.startsWith(heading)) ?? "";
  return part
    .split("\n")
    .filter((line) => line.startsWith("|"))
    .slice(2)
    .map((line) =>
      line
        .split("|")
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );
}

describe("what SECURITY.md points at is there", () => {
  it.each(named(/^tests\//))("%s (line %d)", (name) => {
    expect(isFile(name)).toBe(true);
  });

  it.each(named(/^[a-z-]+(\.test)\.ts$/))("%s (line %d)", (name) => {
    expect(isTest(name)).toBe(true);
  });

  it.each(named(/^(http|readings|app|broker|accounts|journal|series|line)\/[\w/-]+\.ts$/))(
    "%s (line %d)",
    (name) => {
      expect(existsSync(join(root, "gateway/src", name))).toBe(true);
    },
  );

  it.each(named(/^npm run /))("%s (line %d)", (name) => {
    const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { scripts: object };
    expect(Object.keys(scripts)).toContain(name.split(" ")[2]);
  });

  it("each threat has a limit, a test or an attack, and figures", () => {
    const rows = rowsUnder("Threats").filter(([threat]) => !threat?.startsWith("**"));
    expect(rows.length).toBeGreaterThan(15);
    for (const [threat, , shownBy, before, after] of rows) {
      const names = [...(shownBy ?? "").matchAll(/`([^`]+)`/g)].flatMap((match) =>
        expanded(match[1] as string),
      );
      expect(names.length, threat).toBeGreaterThan(0);
      for (const name of names)
        expect(attacks.has(name) || isFile(name) || isTest(name), `${threat}: ${name}`).toBe(true);
      expect([before, after], threat).not.toContain("");
    }
  });

  it("what attacks found is held by a test of that name", () => {
    const rows = rowsUnder("What attacks found");
    expect(rows.length).toBeGreaterThan(40);
    for (const [found, file, title] of rows) {
      const [, name] = /^`(tests\/[\w/-]+)`$/.exec(file ?? "") ?? [];
      const [, words] = /^“(.+)”$/.exec(title ?? "") ?? [];
      const source = readFileSync(join(root, `${name}.test.ts`), "utf8");
      expect(words !== undefined && source.includes(words), `${found}: ${title}`).toBe(true);
    }
  });

  it("every attack stands in the table", () => {
    const shown = rowsUnder("Threats")
      .map((row) => row[2] ?? "")
      .join(" ");
    for (const attack of attacks) expect(shown).toContain(`\`${attack}\``);
  });

  it("each requirement of the two lists has something beside it", () => {
    for (const heading of ["OWASP ASVS", "ETSI EN"]) {
      const rows = rowsUnder(heading);
      expect(rows.length).toBeGreaterThan(20);
      for (const [requirement, here] of rows) expect(here?.length, requirement).toBeGreaterThan(4);
    }
  });
});
