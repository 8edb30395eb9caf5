import type { PersonSettings } from "@drumlin/gateway/contract";
import { computed, signal } from "@preact/signals";

/** How the page speaks and counts; "auto": as the browser does. */
export type Settings = PersonSettings;

/** What holds for who chose nothing. */
export const usual: Settings = {
  language: "auto",
  numbers: "auto",
  conductivity: "uS/cm",
  volume: "L",
  temperature: "Cel",
};

/** What each setting can be. */
export const settingValues: { readonly [Name in keyof Settings]: readonly Settings[Name][] } = {
  language: ["auto", "en", "de"],
  numbers: ["auto", "en-GB", "de-DE", "fr-FR", "en-US"],
  conductivity: ["uS/cm", "mg/L"],
  volume: ["L", "gal"],
  temperature: ["Cel", "degF"],
};

/** Where this browser keeps them: what was chosen for this device alone, and what the person had chosen when last seen here. */
export const keptAt = { device: "drumlin.settings", person: "drumlin.person" } as const;

/** Settings of what was kept somewhere: each that can still be so, the others as usual; null where nothing was. */
export function settingsIn(kept: unknown): Settings | null {
  if (typeof kept !== "object" || kept === null) return null;
  const good = Object.entries(kept).filter(([name, value]) => {
    const values: readonly unknown[] | undefined = Object.hasOwn(settingValues, name)
      ? settingValues[name as keyof Settings]
      : undefined;
    return values?.includes(value) === true;
  });
  return { ...usual, ...Object.fromEntries(good) };
}

/** What this browser kept; null where it kept nothing that can be read. */
export function recall(where: keyof typeof keptAt): Settings | null {
  try {
    return settingsIn(JSON.parse(localStorage.getItem(keptAt[where]) ?? "null"));
  } catch {
    return null;
  }
}

/** What was chosen for this device alone; null: it follows the person. */
export const ofDevice = signal<Settings | null>(recall("device"));
/** What the person chose for every device; until the gateway is asked, as this browser knew it. */
export const ofPerson = signal<Settings | null>(recall("person"));

/** The settings in force: this device's own, else the person's, else the usual. */
export const settings = computed<Settings>(() => ofDevice.value ?? ofPerson.value ?? usual);

/** Changes settings of this device alone. */
export function choose(change: Partial<Settings>): void {
  ofDevice.value = { ...settings.value, ...change };
}
