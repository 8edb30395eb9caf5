import { z } from "zod";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { nodesOf, theGateway } from "../subject.ts";
import { fact, factOf } from "../world-fact.ts";

const connected = { part: "broker", fact: "connected" } as const;
const delay = { elapsedMs: 60_000 };

/** The broker of somebody else can't be reached. */
export const brokerLost: Condition<object, null> = {
  id: "broker-lost",
  subjectKinds: ["gateway"],
  words: {
    unit: "",
    source: "common practice, no source",
    when: "not connected for 60 s; over when connected for 60 s. Gateways on a broker of somebody else.",
    attention: "tell",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: () => [theGateway],
  place: () => null,
  reads: [worldCell],
  hears: () => [fact(connected)],
  judge({ board }) {
    const now = factOf(board, connected);
    // A gateway with a broker of its own tells nothing of it, and can't lose it.
    return { is: now?.value === false, value: null };
  },
  on: () => delay,
  off: () => delay,
  isLatching: false,
  attention: () => "tell",
  causes: [
    { condition: "site-silent", subjects: (line) => [line.site] },
    { condition: "node-silent", subjects: (line) => nodesOf(line).map(({ name }) => name) },
  ],
};
