import type { AlarmView } from "@drumlin/gateway/contract";
import { actOnAlarm } from "../data/acts.ts";
import { isHeld } from "../data/alarm-state.ts";
import { actOnDrum } from "../data/lists.ts";
import { w } from "../words/words.ts";
import { HeldReset } from "./held-reset.tsx";
import { ActButton, type Acts } from "./use-acts.tsx";

const floats = ["moved", "failed", "unknown"] as const;

interface StopButtonsProps {
  readonly alarm: AlarmView;
  readonly acts: Acts;
  /** The alarm for whoever hears the page. */
  readonly subject: string;
}

/** A drum that does not stop: that somebody closed the supply; and, once it is over, what was the matter with its float. */
export function StopButtons({ alarm, acts, subject }: StopButtonsProps) {
  if (!isHeld(alarm))
    return (
      <ActButton
        acts={acts}
        subject={subject}
        name={w.alarmWords.closedSupply}
        done={w.alarmWords.closedSupplyDone}
        send={() => actOnDrum(alarm.subject, "supply-closed", {})}
      />
    );
  return (
    <HeldReset subject={subject}>
      {floats.map((float) => (
        <ActButton
          key={float}
          acts={acts}
          subject={subject}
          name={w.alarmWords.floatWas[float].words}
          done={w.alarmWords.floatWas[float].done}
          send={() => actOnAlarm(alarm, "reset", { float })}
        />
      ))}
    </HeldReset>
  );
}
