import { formulas } from "@drumlin/gateway/water";
import { describe, expect, it } from "vitest";
import { bareApi } from "./bare-api.ts";

const http = bareApi("viewer");

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
