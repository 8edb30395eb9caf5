import { z } from "zod";
import { worldCell } from "../../readings/index.ts";
import type { Condition } from "../condition.ts";
import { theGateway } from "../subject.ts";
import { fact, factOf } from "../world-fact.ts";

const refuses = { part: "broker", fact: "refuses" } as const;
const delay = { elapsedMs: 60_000 };

/** The broker of somebody else is there, and does not let the gateway read its nodes, or write what it tells. */
export const brokerRefuses: Condition<object, null> = {
  id: "broker-refuses",
  subjectKinds: ["gateway"],
  words: {
    unit: "",
    source: "common practice, no source",
    when: "for 60 s the broker refuses what the gateway asks to read, or what it tells; over when it has refused nothing for 60 s. Gateways on a broker of somebody else.",
    attention: "record; tell where nodes can't be read",
  },
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: () => [theGateway],
  place: () => null,
  reads: [worldCell],
  hears: () => [fact(refuses)],
  // A gateway with a broker of its own says nothing of it.
  judge: ({ board }) => ({ is: (factOf(board, refuses)?.value ?? null) !== null, value: null }),
  on: () => delay,
  off: () => delay,
  isLatching: false,
  attention: ({ board }) => (factOf(board, refuses)?.value === "readings" ? "tell" : "record"),
};
