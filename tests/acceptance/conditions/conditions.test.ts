import { conditionRows } from "@drumlin/gateway/alarms";
import { describe, expect, it } from "vitest";
import { runLogScript } from "../log-run.ts";
import { scripts, scriptsOf } from "./scripts.ts";

describe("each condition has a script", () => {
  it.each(conditionRows.map(({ id }) => id))("%s", (id) => {
    expect(scriptsOf(id)).not.toEqual([]);
  });
});

describe("what happens is told as the script says", () => {
  it.each([...scripts])("%s", (_file, script) => {
    expect(runLogScript(script, conditionRows)).toEqual([]);
  });
});
