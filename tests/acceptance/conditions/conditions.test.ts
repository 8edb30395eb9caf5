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

// The first script of each condition; all of them in the long form.
const disturbed = [...scripts].filter(([file]) => process.env.DRUMLIN_RUNS || /^[a-z-]+[.]txt$/.test(file));
describe("begun again from its rows and the line saved again, before and after each change: nothing else is told", () => {
  it.each(disturbed)("%s", (_file, script) => {
    expect(runLogScript(script, conditionRows, true)).toEqual([]);
  });
});
