import type { ComponentChildren } from "preact";
import { w } from "../words/words.ts";

interface HeldResetProps {
  /** The alarm for whoever hears the page. */
  readonly subject: string;
  readonly children: ComponentChildren;
}

/** What ends an alarm that is held stands one tap away, so that no thumb does it by chance. */
export function HeldReset({ subject, children }: HeldResetProps) {
  return (
    <details class="silence">
      <summary>
        {w.alarmWords.resetMore}
        <span class="vh"> {subject}</span>
      </summary>
      <div>{children}</div>
    </details>
  );
}
