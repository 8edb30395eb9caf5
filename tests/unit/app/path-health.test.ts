import { pathHealth } from "@drumlin/gateway/app";
import { expect, it } from "vitest";

const calm = { failure: null, hasRoom: true, behind: null };

it("the path is good while its stores take all, also where much waits for a moment", () => {
  expect(pathHealth(calm).state).toBe("good");
  expect(pathHealth({ ...calm, hasRoom: false }).state).toBe("good");
});

it("a store that can't be written is a lesser fault while what it should hold may wait", () => {
  expect(pathHealth({ ...calm, failure: "logbook.sqlite" })).toEqual({
    state: "degraded",
    text: "logbook.sqlite can't be written now; what it should hold is kept and tried again",
  });
  expect(pathHealth({ ...calm, behind: "series.sqlite ends at entry 4" }).state).toBe("degraded");
});

it("once nothing more may wait for it the gateway is not ready: no node is answered", () => {
  const { state, text } = pathHealth({ ...calm, failure: "series.sqlite", hasRoom: false });
  expect(state).toBe("failed");
  expect(text).toMatch(/^series\.sqlite can't be written, .* nodes are not answered/);
});
