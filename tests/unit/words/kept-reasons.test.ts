// Reasons that earlier versions stored, word by word as they wrote them: whoever reads them later, in any language, still can.
import { readSentence, sentenceIn } from "@drumlin/gateway/words";
import { expect, it } from "vitest";

it.each([
  [
    "at worst it is 15 µS/cm, over this drum's 10: its meter may count too little",
    "short-at-worst",
    "schlimmstenfalls 15 µS/cm, über den 10 dieses Behälters: Sein Zähler zählt vielleicht zu wenig",
  ],
  [
    "at worst it is 15 µS/cm, over this drum's 10: more may have come in than was counted",
    "more-at-worst",
    "schlimmstenfalls 15 µS/cm, über den 10 dieses Behälters: Vielleicht ist mehr zugelaufen, als gezählt wurde",
  ],
])("%s", (stored, code, german) => {
  expect(readSentence(stored)).toEqual({ code, values: { worst: 15, band: 10 } });
  expect(sentenceIn("de", stored)).toBe(german);
});
