import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { checkBorders } from "../../tooling/borders.ts";

const folders: string[] = [];
function tree(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), "borders-"));
  folders.push(folder);
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  return folder;
}
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

const clean = {
  "gateway/src/readings/index.ts": "export const reading = 1;\n",
  "gateway/src/alarms/index.ts":
    'import { reading } from "../readings/index.ts";\nexport const alarm = reading;\n',
  "gateway/src/http/contract.ts": "export const contract = 1;\n",
};

/** A violation of each rule, planted in one tree: the checker needs a second to start, however much it reads. */
const planted: readonly (readonly [rule: string, files: Readonly<Record<string, string>>])[] = [
  ["later-room:readings", { "gateway/src/readings/bad-1.ts": 'import "../alarms/index.ts";\n' }],
  [
    "only-through-the-front-door",
    {
      "gateway/src/readings/inside.ts": "export const a = 1;\n",
      "gateway/src/alarms/bad-2.ts": 'import "../readings/inside.ts";\n',
    },
  ],
  ["pure-rooms-do-no-io", { "gateway/src/alarms/bad-3.ts": 'import "node:fs";\n' }],
  [
    "pages-know-only-the-contract",
    { "monitor-ui/src/bad-4.ts": 'import "../../gateway/src/alarms/index.ts";\n' },
  ],
  [
    "protocol-knows-nobody",
    { "firmware-protocol/src/bad-5.ts": 'import "../../gateway/src/readings/index.ts";\n' },
  ],
  [
    "product-imports-no-tests",
    { "tests/x.ts": "export const x = 1;\n", "gateway/src/app/bad-6.ts": 'import "../../../tests/x.ts";\n' },
  ],
  [
    "no-circle",
    { "gateway/src/alarms/a.ts": 'import "./b.ts";\n', "gateway/src/alarms/b.ts": 'import "./a.ts";\n' },
  ],
  ["resolvable", { "gateway/src/alarms/bad-7.ts": 'import "./nowhere.ts";\n' }],
];

describe("the border check", () => {
  it("passes a clean tree and says how many modules it read", () => {
    const report = checkBorders(tree(clean));
    expect(report.violations).toEqual([]);
    expect(report.modules).toBe(3);
  });

  it("catches a seeded violation of each rule, where it is", () => {
    const { violations } = checkBorders(tree(Object.assign({}, clean, ...planted.map(([, files]) => files))));
    const found = new Set(violations.map(({ rule, from }) => `${rule} ${from}`));
    for (const [rule, files] of planted)
      expect(
        Object.keys(files).some((file) => found.has(`${rule} ${file}`)),
        rule,
      ).toBe(true);
    // What was planted for one rule hurts no other.
    expect(new Set(violations.map(({ rule }) => rule))).toEqual(new Set(planted.map(([rule]) => rule)));
  });
});
