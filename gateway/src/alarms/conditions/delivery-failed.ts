import { z } from "zod";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { subjectOf } from "../subject.ts";
import { fact, factOf } from "../world-fact.ts";

const failing = (destination: string) => ({ part: "notifications", fact: destination });

/** The subject that stands for all devices of people. */
export const allDevices = "devices";

/** Somebody can't be told anything. */
export const deliveryFailed: Condition<object, null> = {
  id: "delivery-failed",
  subjectKinds: ["destination"],
  words: {
    unit: "",
    source: "common practice, no source",
    when: "three tries in a row failed, or one was refused for good; over when one is delivered",
    attention: "tell, by the other ways",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: (line) =>
    [...line.notify.destinations.map(({ id }) => id), allDevices].map((id) => subjectOf("destination", id)),
  place: () => null,
  reads: [worldCell],
  hears: (_place, { id }) => [fact(failing(id))],
  judge: ({ board, subject }) => ({ is: factOf(board, failing(subject.id))?.value === true, value: null }),
  on: () => ({}),
  off: () => ({}),
  isLatching: false,
  attention: () => "tell",
};
