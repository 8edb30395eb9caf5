import { stateOf } from "@drumlin/gateway/alarms";
import { describe, expect, it } from "vitest";
import {
  goesOn,
  hasEnded,
  isHeld,
  isSilent,
  isStanding,
  unseen,
} from "../../../monitor-ui/src/data/alarm-state.ts";

const untilMs = 1000;
const either = [false, true];
/** Everything that an alarm can be, by its parts. */
const cores = either.flatMap((active) =>
  either.flatMap((latched) =>
    either.flatMap((acked) =>
      [
        {},
        { shelved: { untilMs, oneShot: false } },
        { suppressedUntilMs: untilMs },
        { outOfService: true },
      ].map((silence) => ({
        ...{ shelved: null, suppressedUntilMs: null, outOfService: false },
        ...{ active, latched: latched && !active, acked },
        ...silence,
        isSilenced: Object.keys(silence).length > 0,
      })),
    ),
  ),
);

describe("what a page reads from an alarm's state", () => {
  it.each(cores)("is what the gateway means by it: %j", ({ isSilenced, ...core }) => {
    const { active, latched, acked } = core;
    const alarm = { state: stateOf(core) };
    expect({
      silent: isSilent(alarm),
      goesOn: goesOn(alarm),
      held: isHeld(alarm),
      ended: hasEnded(alarm),
      standing: isStanding(alarm.state),
      unseen: unseen(alarm),
    }).toEqual({
      silent: isSilenced,
      goesOn: active && !isSilenced,
      held: latched && !isSilenced,
      ended: !active && (latched || !acked) && !isSilenced,
      standing: (active || latched) && !isSilenced,
      unseen: !acked && !isSilenced,
    });
  });
});
