import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { calls, everyCode } from "@drumlin/gateway/http";
import { rejections } from "@drumlin/gateway/readings";
import { describe, expect, it } from "vitest";
import packs from "../../../firmware-protocol/vectors/packs.json" with { type: "json" };

const folder = fileURLToPath(new URL("../../../gateway/src/http/routes/", import.meta.url));
const routes = readdirSync(folder)
  .map((file) => readFileSync(join(folder, file), "utf8"))
  .join("\n");

describe("the one registry of codes", () => {
  it("every code is kebab-case and says what it means and what to do", () => {
    for (const [code, { title, todo }] of Object.entries(everyCode)) {
      expect(code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
      expect(title.length).toBeGreaterThan(10);
      expect(todo.length).toBeGreaterThan(5);
    }
  });
  it("every refusal among the vectors is in it", () => {
    for (const { code } of packs.refused) expect(Object.keys(rejections)).toContain(code);
  });
});

describe("the API's document", () => {
  it("names every route of the server, and the server has every call of the document", () => {
    const served = [...routes.matchAll(/server\.(get|post|delete)(?:<[^(]*>)?\(\s*["`]([^"`]+)["`]/g)].map(
      ([, method, path]) => `${method} ${path?.replace(/:(\w+)/g, "{$1}")}`,
    );
    // Those of the acts come from their rows: written down here, since others call them.
    const onAlarms = [
      "acknowledge",
      "unacknowledge",
      "shelve",
      "unshelve",
      "reset",
      "out-of-service",
      "in-service",
    ];
    const ofActs = [
      ...onAlarms.map((act) => `post /api/alarms/{key}/${act}`),
      ...["calibrations", "hand-tests", "media", "notes"].flatMap((name) => [
        `get /api/${name}`,
        `post /api/${name}`,
      ]),
      "post /api/drums/{id}/batch",
      "post /api/drums/{id}/fill",
      "post /api/drums/{id}/release",
      "post /api/drums/{id}/release/undo",
      "post /api/drums/{id}/supply-closed",
      "post /api/work",
      "post /api/work-done",
      "post /api/proof-tests",
      "post /api/proof-tests/{float}/cancel",
      "post /api/proof-tests/{float}/turn",
    ];
    expect([...served, ...ofActs].sort()).toEqual(
      calls.map(({ method, path }) => `${method} ${path}`).sort(),
    );
  });
});
