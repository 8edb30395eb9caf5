import type { GuardFacts } from "../guard/guard-facts.ts";
import { litresOf } from "./open-fill.ts";
import type { Following } from "./running.ts";

/** What the guard goes by. */
export function factsOf({
  place,
  record,
  said,
  overflowProvedUntilMs,
  isAwaiting,
}: Pick<Following, "place" | "record" | "said" | "overflowProvedUntilMs" | "isAwaiting">): GuardFacts {
  const { open } = record;
  const { drum } = place;
  const meter = open?.meterStart && said.meters.find(({ key }) => key === open.meterStart?.key);
  const share = record.inflow.meter?.share ?? 1;
  // Of a meter that others share: what was booked share by share. The share of now, taken for the whole fill, would give
  // this drum all that the other one took, as soon as that one has stopped.
  const ofMeter = (totalL: number, startL: number) =>
    meter?.isShared && open?.basis === "flow-meter"
      ? (litresOf(open) ?? (totalL - startL) * share)
      : (totalL - startL) * share;
  const { stop, level } = said;
  return {
    drum,
    said,
    learned: record.learned,
    overflowProvedUntilMs,
    isAwaiting,
    graceMs: place.graceMs,
    isNight: place.isNight,
    hadFill: record.call?.hadFill ?? false,
    isEmptied: record.isEmptied === true,
    callSinceMs:
      drum.control === "automatic" && stop?.heard === true && stop.wet === false ? stop.sinceMs : null,
    fill: open
      ? {
          startedAtMs: open.startedAtMs,
          meterL: meter && open.meterStart ? ofMeter(meter.totalL, open.meterStart.totalL) : null,
          levelL:
            level?.inflowL == null || open.levelStartL === null ? null : level.inflowL - open.levelStartL,
          contentsL: open.contentsL,
          hasStood: open.hasStood === true,
          drawnL: Math.max(0, (level?.drawnL ?? 0) + (level?.fallingL ?? 0) - open.drawnStartL),
        }
      : null,
  };
}
