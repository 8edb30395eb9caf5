import { useState } from "preact/hooks";
import { soundNeedsTap, soundOn, testSound, turnSound } from "../data/sound.ts";
import { w } from "../words/words.ts";
import { Icon } from "./icon.tsx";

/** Turns the sound of this device on and off, and says when the browser still wants a tap. */
export function AlarmSound() {
  const on = soundOn.value;
  const waits = on && soundNeedsTap.value;
  return (
    <button
      type="button"
      class={waits ? "btn plain sound waiting" : "btn plain sound"}
      aria-pressed={on}
      aria-label={on ? (waits ? w.alarmWords.soundTap : w.alarmWords.soundOn) : w.alarmWords.soundOff}
      onClick={() => void turnSound(!on)}
    >
      <Icon name={on ? "sound" : "mute"} />
      {waits && <span>{w.alarmWords.tapOnce}</span>}
    </button>
  );
}

/** Sounds one tone, and says what came of it and what this sound can't do. */
export function SoundTest() {
  const [told, tell] = useState("");
  return (
    <div class="sound-test">
      <button
        type="button"
        class="btn"
        onClick={() =>
          void testSound().then((sounded) =>
            tell(sounded ? w.alarmWords.soundHeard : w.alarmWords.soundBlocked),
          )
        }
      >
        {w.alarmWords.testSound}
      </button>
      <p class="sm" role="status">
        {told}
      </p>
      <p class="sm soft">{w.alarmWords.soundLimits}</p>
    </div>
  );
}
