import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import { createHttp } from "@drumlin/gateway/http";
import { formulas } from "@drumlin/gateway/water";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { noComponents } from "./no-components.ts";

const accounts = openAccounts({ folder: mkdtempSync(join(tmpdir(), "drumlin-http-")), now: Date.now });
let http: Awaited<ReturnType<typeof createHttp>>;
beforeAll(async () => {
  http = await createHttp(noComponents(accounts), {
    host: "127.0.0.1",
    port: 0,
    pages: null,
    signedIn: { kind: "person", name: "keeper", role: "viewer" },
  });
});
afterAll(async () => {
  await http.stop();
  accounts.close();
});

async function found(query: string): Promise<{ id: string; words: string[]; example: object }[]> {
  const answer = await fetch(`http://127.0.0.1:${http.port}/api/compute${query}`);
  return ((await answer.json()) as { items: [] }).items;
}

describe("formulas over HTTP by the words of the trade", () => {
  it("all of them, each with its words and an example", async () => {
    const all = await found("");
    expect(all.map(({ id }) => id)).toEqual(formulas.map(({ id }) => id));
    expect(all.find(({ id }) => id === "contact-time")).toMatchObject({ words: ["EBCT"] });
    expect(all.filter(({ example }) => Object.keys(example).length === 0)).toEqual([]);
  });
  it.each([
    ["TDS", "solids-by-factor"],
    ["EBCT", "contact-time"],
    ["specific%20conductance", "natural-25"],
    ["CCC", "ammonia-criteria-fresh"],
  ])("find=%s gives %s first", async (word, id) => {
    expect((await found(`?find=${word}`))[0]?.id).toBe(id);
  });
  it("a word that leads nowhere gives none", async () => {
    expect(await found("?find=furlong")).toEqual([]);
  });
});
