import type { Alarm } from "@drumlin/gateway/alarms";
import { readLine } from "@drumlin/gateway/line";
import { type Call, type MessageWords, messageWords, type Wording } from "@drumlin/gateway/notifications";

export const nowMs = Date.parse("2026-03-02T02:25:00Z");
const minute = 60_000;

const read = readLine(`drumlin: 1
site: saltmarsh-house
title: Saltmarsh House
timezone: UTC
points: { supply: { conductivity: press/ec-1 }, after-resin: { conductivity: press/ec-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin } }
drums: { mix: { title: Mix drum, volume: 200 L, fed_by: after-resin, stop: drums/float-2 } }
`);
if (!read.ok) throw new Error(JSON.stringify(read.faults));
export const { line } = read;

/** A call of an alarm as it stands, with what is different. */
export function aCall(more: Partial<Call> = {}, alarm: Partial<Alarm> = {}): Call {
  const key = alarm.key ?? "drum-not-stopping:mix";
  return {
    id: `7/${key}/1`,
    key,
    occurrence: `7/${key}/1`,
    attention: "wake",
    calledAtMs: nowMs - 12 * minute,
    isConsequence: false,
    endedAtMs: null,
    seenAtMs: null,
    seenBy: null,
    silencedAtMs: null,
    isReplaced: false,
    ...more,
    alarm: {
      key,
      occurrence: `7/${key}/1`,
      condition: "drum-not-stopping",
      subject: "mix",
      attention: "wake",
      state: "unacknowledged",
      active: true,
      latched: false,
      under: null,
      judged: { now: true, because: null, sinceMs: 0 },
      raisedAtMs: nowMs - 12 * minute,
      clearedAtMs: null,
      acknowledgedAtMs: null,
      acknowledgedBy: null,
      shelvedUntilMs: null,
      value: 176.3,
      limit: 170,
      unit: "L",
      text: "Drum does not stop filling",
      response: "Close the supply by hand first.",
      ...alarm,
    },
  };
}

export const wording = (more: Partial<Wording> = {}): Wording => ({
  line,
  zone: "UTC",
  nowMs,
  language: "en",
  calls: [],
  page: "https://house.example",
  seenLink: () => null,
  ...more,
});

/** A message about one call. */
export const aMessage = (call: Call = aCall(), more: Partial<Wording> = {}): MessageWords =>
  messageWords([{ call, step: "call" }], { madeMs: nowMs, list: false }, wording(more));
