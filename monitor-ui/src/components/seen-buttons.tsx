import type { AlarmView } from "@drumlin/gateway/contract";
import { actOnAlarm } from "../data/acts.ts";
import { canUndoSeen, hasEnded, isHeld, unseen } from "../data/alarm-state.ts";
import { gatewayNowMs } from "../data/state.ts";
import { headlineOf } from "../format/headlines.ts";
import { w } from "../words/words.ts";
import { ActButton, type Acts } from "./use-acts.tsx";

/** Marks an alarm as seen; for 10 min after that, takes it back. */
export function SeenButtons({
  alarm,
  acts,
  first,
}: {
  readonly alarm: AlarmView;
  readonly acts: Acts;
  readonly first?: boolean;
}) {
  const common = { acts, subject: headlineOf(alarm) };
  if (unseen(alarm))
    return (
      <ActButton
        {...common}
        first={first === true}
        name={w.alarmWords.markSeen}
        done={w.alarmWords.markedSeen}
        send={() => actOnAlarm(alarm, "acknowledge")}
      />
    );
  if (!canUndoSeen(alarm, gatewayNowMs.value)) return null;
  return (
    <ActButton
      {...common}
      name={w.alarmWords.undoSeen}
      done={w.alarmWords.newAgain}
      send={() => actOnAlarm(alarm, "unacknowledge")}
    />
  );
}

/** What has ended goes with being seen: that can't be taken back, and is said before. */
export const isSeenForGood = (alarm: AlarmView): boolean =>
  unseen(alarm) && hasEnded(alarm) && !isHeld(alarm);
