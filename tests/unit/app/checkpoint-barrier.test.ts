import { createPipeline, LiveDriver } from "@drumlin/gateway/app";
import { expect, it } from "vitest";
import { beginMs, testLine } from "../../acceptance/line-bench.ts";

it("a checkpoint waits for the series and then for the logbook's file, and is not saved when that one can't", async () => {
  const said: string[] = [];
  let isFull = false;
  const driver = new LiveDriver({
    pipeline: createPipeline(),
    journal: {
      saveCheckpoint: async (_changes, whenStored) => {
        const isStored = (await whenStored?.catch(() => false)) ?? true;
        said.push(isStored ? "saved" : "not saved");
        return isStored;
      },
    },
    series: {
      begin: () => {},
      add: () => {},
      waiting: 0,
      hasRoom: true,
      whenRoom: async () => {},
      sync: async () => void said.push("series"),
    },
    logbook: {
      record: () => said.push("logbook"),
      sync: async () => {
        if (isFull) throw new Error("no room");
        said.push("sync");
      },
    },
    onOutcome: () => {},
    onEntryFailure: (_seq, error) => {
      throw error;
    },
    onStoreFailure: () => {},
  });
  driver.takeAll([{ seq: 1, receivedAt: beginMs, kind: "line", yaml: testLine }]);
  await driver.checkpoint();
  expect(said.at(-1)).toBe("saved");
  expect(said.indexOf("logbook")).toBeLessThan(said.indexOf("sync"));
  expect(said.indexOf("series")).toBeLessThan(said.indexOf("sync"));
  isFull = true;
  await expect(driver.checkpoint()).rejects.toThrow(/behind/);
  expect(said.at(-1)).toBe("not saved");
});
