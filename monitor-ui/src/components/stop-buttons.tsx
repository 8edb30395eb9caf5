import type { AlarmView } from "@drumlin/gateway/contract";
import { actOnAlarm } from "../data/acts.ts";
import { actOnDrum } from "../data/lists.ts";
import { ActButton, type Acts } from "./use-acts.tsx";

const floats = [
  { float: "moved", words: "The float was moved", done: "Reset. Where it trips is learned anew." },
  { float: "failed", words: "The float failed", done: "Reset. Test the new one before you rely on it." },
  { float: "unknown", words: "I don't know", done: "Reset." },
] as const;

interface StopButtonsProps {
  readonly alarm: AlarmView;
  readonly acts: Acts;
  /** The alarm for whoever hears the page. */
  readonly subject: string;
}

/** A drum that does not stop: that somebody closed the supply; and, once it is over, what was the matter with its float. */
export function StopButtons({ alarm, acts, subject }: StopButtonsProps) {
  if (!alarm.state.startsWith("latched"))
    return (
      <ActButton
        acts={acts}
        subject={subject}
        name="I closed the supply"
        done="Written down. It ends once nothing runs any more."
        send={() => actOnDrum(alarm.subject, "supply-closed", {})}
      />
    );
  return (
    <details class="silence">
      <summary>
        Reset…<span class="vh"> {subject}</span>
      </summary>
      <div>
        {floats.map(({ float, words, done }) => (
          <ActButton
            key={float}
            acts={acts}
            subject={subject}
            name={words}
            done={done}
            send={() => actOnAlarm(alarm, "reset", { float })}
          />
        ))}
      </div>
    </details>
  );
}
