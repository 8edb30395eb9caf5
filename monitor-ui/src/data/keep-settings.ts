import { effect } from "@preact/signals";
import { recallSettings, settings, settingsKept } from "./settings.ts";

/** Keeps the settings, and follows another tab of the same browser. */
export function keepSettings(): void {
  effect(() => {
    try {
      localStorage.setItem(settingsKept, JSON.stringify(settings.value));
    } catch {
      // A private window may keep nothing: then they last until the reload.
    }
  });
  addEventListener("storage", ({ key }) => {
    if (key === settingsKept) settings.value = recallSettings();
  });
}
