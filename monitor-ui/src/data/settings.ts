import { signal } from "@preact/signals";

/** How this device speaks and counts, as somebody chose it; "auto": as the browser does. */
export interface Settings {
  readonly language: "auto" | "en" | "de";
  /** Form of numbers and dates, by a locale that has it. */
  readonly numbers: "auto" | "en-GB" | "de-DE" | "fr-FR" | "en-US";
  readonly conductivity: "uS/cm" | "mg/L";
  readonly volume: "L" | "gal";
  readonly temperature: "Cel" | "degF";
}

const usual: Settings = {
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

/** Where this device keeps them. */
export const settingsKept = "drumlin.settings";

/** What was kept, each setting that can still be so; the usual for the others. */
export function recallSettings(): Settings {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(settingsKept) ?? "{}");
    if (typeof kept !== "object" || kept === null) return usual;
    const good = Object.entries(kept).filter(([name, value]) => {
      const values: readonly unknown[] | undefined = Object.hasOwn(settingValues, name)
        ? settingValues[name as keyof Settings]
        : undefined;
      return values?.includes(value) === true;
    });
    return { ...usual, ...Object.fromEntries(good) };
  } catch {
    return usual;
  }
}

/** The settings of this device: kept across reloads, in force at once. */
export const settings = signal<Settings>(recallSettings());

/** Changes settings of this device. */
export function choose(change: Partial<Settings>): void {
  settings.value = { ...settings.value, ...change };
}
