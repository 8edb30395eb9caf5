import { findFormulas, formulaOf, tradeWordOf, tradeWords } from "@drumlin/gateway/water";
import { describe, expect, it } from "vitest";

const idsOf = (text: string) => findFormulas(text).map(({ id }) => id);

describe("formulas by the words of the trade", () => {
  it.each([
    ["TDS", "solids-by-factor"],
    ["tds", "solids-by-factor"],
    ["EBCT", "contact-time"],
    ["TAN", "ammonia-unionised-fresh"],
    ["TCF", "membrane-temperature"],
    ["ppt", "salinity-of-conductivity"],
    ["PSU", "salinity-of-conductivity"],
    ["specific conductance", "natural-25"],
    ["Specific-Conductance", "natural-25"],
    ["CMC", "ammonia-criteria-fresh"],
    ["CCC", "ammonia-criteria-fresh"],
  ])("%s leads to %s first", (word, id) => {
    expect(idsOf(word)[0]).toBe(id);
  });
  it.each([
    ["TDS", "solids-by-factor"],
    ["EBCT", "contact-time"],
    ["TAN", "ammonia-unionised-sea"],
    ["TCF", "membrane-temperature"],
    ["ppt", "salinity-of-conductivity"],
    ["specific conductance", "linear-25"],
    ["CMC", "chlorine-criteria"],
    ["CCC", "ammonia-criteria-salt"],
  ])("%s stands in the name of %s as it is read", (word, id) => {
    expect(formulaOf(id)?.title).toContain(word);
  });
  it("CMC and CCC lead to those of chlorine too", () => {
    for (const word of ["CMC", "CCC"]) expect(idsOf(word)).toContain("chlorine-criteria");
  });
  it("each word leads to formulas that are there, and is written once", () => {
    for (const { word, formulas: ids } of tradeWords) {
      expect(ids.length, word).toBeGreaterThan(0);
      for (const id of ids) expect(formulaOf(id)?.id, `${word} leads to ${id}`).toBe(id);
      expect(idsOf(word).slice(0, ids.length), word).toEqual(ids);
    }
    expect(new Set(tradeWords.map(({ word }) => word.toLowerCase())).size).toBe(tradeWords.length);
  });
  it("says what a word means", () => {
    expect(tradeWordOf("ebct")?.meaning).toBe("empty-bed contact time");
    expect(tradeWordOf("furlong")).toBeUndefined();
  });
  it("finds by name, title, description and source, what names it before what mentions it", () => {
    expect(idsOf("dilution")[0]).toBe("dilution");
    expect(idsOf("Emerson")).toContain("ammonia-unionised-fresh");
    expect(idsOf("magnesium hardness")).toContain("hardness");
    expect(idsOf("empty-bed contact time")[0]).toBe("contact-time");
  });
  it.each([
    ["dechlorinate", "dechlorinator-dose"],
    ["remineralise", "remineralisation"],
    ["remineralizing", "remineralisation"],
    ["unionized ammonia", "ammonia-unionised-fresh"],
    ["normalized", "membrane-flow"],
  ])("%s, whatever its ending and spelling, leads to %s", (words, id) => {
    expect(idsOf(words)).toContain(id);
  });
  it("a short word stands alone: no TAN in standard", () => {
    expect(idsOf("TAN")).not.toContain("conductivity-standard");
    expect(idsOf("")).toEqual([]);
    expect(idsOf("furlong")).toEqual([]);
  });
});
