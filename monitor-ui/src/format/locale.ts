import { computed } from "@preact/signals";
import { settings } from "../data/settings.ts";
import { line } from "../data/state.ts";
import { language } from "../words/words.ts";

/** Whose form numbers, dates and times have: chosen, else the browser's where it speaks the page's language, else that language's. */
export const locale = computed(() => {
  const { numbers } = settings.value;
  if (numbers !== "auto") return numbers;
  const own = navigator.languages.find((tag) => tag.toLowerCase().split("-")[0] === language.value);
  return own ?? (language.value === "de" ? "de-DE" : "en-GB");
});

const deviceZone = Intl.DateTimeFormat().resolvedOptions().timeZone;

/** The zone in which times are shown: the site's, once it is known. */
export const zone = computed(() => line.value?.timezone ?? deviceZone);

/** Whether clocks of a zone show another time now than this device does. */
export function isOtherTime(timeZone: string): boolean {
  if (timeZone === deviceZone) return false;
  const now = new Date();
  const at = (one: string) =>
    now.toLocaleString("en-GB", { timeZone: one, dateStyle: "short", timeStyle: "short" });
  return at(timeZone) !== at(deviceZone);
}

/** Whether this device's clock shows another time than the site's does now. */
export const isElsewhere = computed(() => isOtherTime(zone.value));
