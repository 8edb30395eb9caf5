import { computed, effect, signal } from "@preact/signals";
import { alarms, gatewayNowMs, line, lost } from "./state.ts";

const againMs = 30_000;
const toneS = 0.22;
const remembered = "drumlin.sound";

function recall(): boolean {
  try {
    return localStorage.getItem(remembered) === "on";
  } catch {
    return false;
  }
}

/** Whether this device sounds for alarms: kept across pages and reloads. */
export const soundOn = signal(recall());
/** Whether the browser still wants one tap before it lets the page sound. */
export const soundNeedsTap = signal(false);

let audio: AudioContext | null = null;
let awake: Promise<WakeLockSentinel> | null = null;

function ring(times: number, hertz = 880): void {
  if (audio?.state !== "running") return;
  for (let tone = 0; tone < times; tone += 1) {
    const beginS = audio.currentTime + tone * toneS * 1.6;
    const source = audio.createOscillator();
    const volume = audio.createGain();
    source.frequency.value = hertz;
    volume.gain.setValueAtTime(0, beginS);
    volume.gain.linearRampToValueAtTime(0.5, beginS + 0.02);
    volume.gain.linearRampToValueAtTime(0, beginS + toneS);
    source.connect(volume).connect(audio.destination);
    source.start(beginS);
    source.stop(beginS + toneS);
  }
}

/** Tones that are due: three for act now, two for act soon, two low ones while the gateway is not heard. */
const calling = computed<{ times: number; hertz: number }>(() => {
  if (lost.value) return { times: 2, hertz: 440 };
  // What is held until reset and was seen by nobody calls too; what went back by itself only waits to be seen.
  const own = alarms.value.filter(
    ({ state }) => state === "unacknowledged" || state === "latched-unacknowledged",
  );
  if (own.some(({ attention }) => attention === "wake")) return { times: 3, hertz: 880 };
  return { times: own.some(({ attention }) => attention === "tell") ? 2 : 0, hertz: 880 };
});

/** Fills by hand that are at 80 % and at 100 % of their usual time, each once: "mix 0", "mix 1". */
const fillsDue = computed(() =>
  (line.value?.drums ?? [])
    .flatMap(({ id, control, fill, expectedEnd }) => {
      if (control !== "manual" || !fill || expectedEnd === null) return [];
      const [begun, end] = [Date.parse(fill.startedAt), Date.parse(expectedEnd)];
      const share = (gatewayNowMs.value - begun) / Math.max(1, end - begun);
      return share >= 1 ? [`${id} 1`] : share >= 0.8 ? [`${id} 0`] : [];
    })
    .join(),
);

async function wakeUp(): Promise<void> {
  audio ??= new AudioContext();
  // Without a tap a browser leaves this open; the tap that comes calls it again.
  await Promise.race([audio.resume(), new Promise((resolve) => setTimeout(resolve, 500))]);
  soundNeedsTap.value = audio.state !== "running";
}

/** The screen stays on where sound is: a phone asleep calls nobody. A browser takes the lock back where the tab is hidden. */
async function keepAwake(): Promise<void> {
  // One that is still asked for is let go too, once it is here.
  const before = awake;
  awake = soundOn.value && !document.hidden ? (navigator.wakeLock?.request("screen") ?? null) : null;
  // Not every browser has it, or the battery is low: then the screen sleeps as set.
  await Promise.all([awake, before?.then((lock) => lock.release())]).catch(() => {});
}

/** Turns the sound of this device on or off; a tap must lead here. On: one tone, to be heard. */
export async function turnSound(on: boolean): Promise<void> {
  soundOn.value = on;
  try {
    localStorage.setItem(remembered, on ? "on" : "off");
  } catch {
    // A private window may keep nothing: then it lasts until the reload.
  }
  void keepAwake();
  if (on) await testSound();
}

/** One tone now. True when the browser let it sound. */
export async function testSound(): Promise<boolean> {
  await wakeUp();
  ring(1);
  return !soundNeedsTap.value;
}

/** Starts the sound of the app, above all pages: it lasts while the page is open. */
export function startSound(): void {
  const started = () => soundOn.value && !soundNeedsTap.value;
  effect(() => {
    const { times, hertz } = calling.value;
    if (!started() || times === 0) return;
    ring(times, hertz);
    const timer = setInterval(() => ring(times, hertz), againMs);
    return () => clearInterval(timer);
  });
  effect(() => {
    if (fillsDue.value !== "" && started()) ring(1);
  });
  if (soundOn.value) {
    soundNeedsTap.value = true;
    void wakeUp();
    void keepAwake();
  }
  for (const event of ["pointerdown", "keydown"])
    addEventListener(event, () => {
      if (soundOn.value && soundNeedsTap.value) void wakeUp();
    });
  document.addEventListener("visibilitychange", () => void keepAwake());
}
