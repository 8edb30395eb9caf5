import { useState } from "preact/hooks";
import { soundNeedsTap, soundOn, testSound, turnSound } from "../data/sound.ts";
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
      aria-label={on ? (waits ? "Alarm sound: tap once" : "Alarm sound: on") : "Alarm sound: off"}
      onClick={() => void turnSound(!on)}
    >
      <Icon name={on ? "sound" : "mute"} />
      {waits && <span>tap once</span>}
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
            tell(
              sounded ? "One tone now. Not heard? Turn up this device." : "The browser lets no sound out.",
            ),
          )
        }
      >
        Test the sound
      </button>
      <p class="sm" role="status">
        {told}
      </p>
      <p class="sm soft">
        It sounds only on this device, only while this page is open, and also when contact is lost. A device
        that sleeps or is muted calls nobody.
      </p>
    </div>
  );
}
