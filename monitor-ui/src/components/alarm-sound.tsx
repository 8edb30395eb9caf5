import { useState } from "preact/hooks";
import { soundNeedsTap, soundOn, testSound, turnSound } from "../data/sound.ts";

/** Turns the sound of this device on and off, and says when the browser still wants a tap. */
export function AlarmSound() {
  const on = soundOn.value;
  return (
    <button
      type="button"
      class={on && soundNeedsTap.value ? "sound waiting" : "sound"}
      aria-pressed={on}
      onClick={() => void turnSound(!on)}
    >
      {on ? (soundNeedsTap.value ? "Alarm sound: tap once" : "Alarm sound: on") : "Alarm sound: off"}
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
        onClick={() =>
          void testSound().then((sounded) =>
            tell(
              sounded ? "One tone now. Not heard? Turn up this device." : "The browser lets no sound out.",
            ),
          )
        }
      >
        Test the sound
      </button>
      <p class="u" role="status">
        {told}
      </p>
      <p class="u">
        It sounds only on this device, only while this page is open, and also when contact is lost. A device
        that sleeps or is muted calls nobody.
      </p>
    </div>
  );
}
