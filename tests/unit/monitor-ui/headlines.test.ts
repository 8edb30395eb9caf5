import { conditions } from "@drumlin/gateway/words/de";
import { afterEach, expect, it } from "vitest";
import { choose, ofDevice } from "../../../monitor-ui/src/data/settings.ts";
import { toDoOf } from "../../../monitor-ui/src/format/headlines.ts";
import { startWords, wordsHere } from "../../../monitor-ui/src/words/words.ts";

afterEach(() => {
  ofDevice.value = null;
});

const stands = {
  condition: "drum-not-stopping",
  response: "Close the supply valve now.",
  clearedAt: null,
};
const over = { ...stands, response: "Test the float.", clearedAt: "2031-05-05T18:52:00Z" };

it("what to do about an alarm is what the gateway says, in German what it means, and other words once it is over", async () => {
  startWords();
  choose({ language: "en" });
  await wordsHere();
  expect([toDoOf(stands), toDoOf(over)]).toEqual(["Close the supply valve now.", "Test the float."]);
  choose({ language: "de" });
  await wordsHere();
  const { response, after } = conditions["drum-not-stopping"];
  expect([toDoOf(stands), toDoOf(over)]).toEqual([response, after]);
  expect(toDoOf({ ...over, condition: "of-tomorrow" })).toBe("Test the float.");
});
