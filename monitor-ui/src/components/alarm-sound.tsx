import { useEffect, useState } from "preact/hooks";
import { alarms, gatewayNowMs, line } from "../data/state.ts";

const againMs = 30_000;
const toneS = 0.22;

let audio: AudioContext | null = null;

/** Short tones one after the other: three for wake, two for tell. */
function ring(times: number): void {
  if (!audio) return;
  for (let tone = 0; tone < times; tone += 1) {
    const beginS = audio.currentTime + tone * toneS * 1.6;
    const source = audio.createOscillator();
    const volume = audio.createGain();
    source.frequency.value = 880;
    volume.gain.setValueAtTime(0, beginS);
    volume.gain.linearRampToValueAtTime(0.5, beginS + 0.02);
    volume.gain.linearRampToValueAtTime(0, beginS + toneS);
    source.connect(volume).connect(audio.destination);
    source.start(beginS);
    source.stop(beginS + toneS);
  }
}

/** Fills by hand that are at 80 % and at 100 % of their usual time, each once: "mix 0", "mix 1". */
function fillsDue(): string {
  return (line.value?.drums ?? [])
    .flatMap(({ id, control, fill, expectedEnd }) => {
      if (control !== "manual" || !fill || expectedEnd === null) return [];
      const [begun, end] = [Date.parse(fill.startedAt), Date.parse(expectedEnd)];
      const share = (gatewayNowMs.value - begun) / Math.max(1, end - begun);
      return share >= 1 ? [`${id} 1`] : share >= 0.8 ? [`${id} 0`] : [];
    })
    .join();
}

/** A sound on this device while an alarm is new; browsers want one tap before a page may make any. */
export function AlarmSound() {
  const [on, turn] = useState(false);
  // What is held until reset and was seen by nobody calls too; what went back by itself only waits to be seen.
  const calling = alarms.value.filter(
    ({ state }) => state === "unacknowledged" || state === "latched-unacknowledged",
  );
  const times = calling.some(({ attention }) => attention === "wake")
    ? 3
    : calling.some(({ attention }) => attention === "tell")
      ? 2
      : 0;
  useEffect(() => {
    if (!on || times === 0) return;
    ring(times);
    const timer = setInterval(() => ring(times), againMs);
    return () => clearInterval(timer);
  }, [on, times]);
  const due = fillsDue();
  useEffect(() => {
    if (on && due !== "") ring(1);
  }, [on, due]);
  return (
    <button
      type="button"
      class="sound"
      aria-pressed={on}
      onClick={() => {
        audio ??= new AudioContext();
        void audio.resume();
        if (!on) ring(1);
        turn(!on);
      }}
    >
      {on ? "Sound is on here" : "Sound is off here"}
    </button>
  );
}
