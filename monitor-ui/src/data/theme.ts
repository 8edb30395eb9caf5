import { effect, signal } from "@preact/signals";

/** How this device looks: as it is set itself, or as the keeper chose. */
export type Theme = "auto" | "light" | "dark";

const remembered = "drumlin.theme";

function recall(): Theme {
  try {
    const kept = localStorage.getItem(remembered);
    return kept === "light" || kept === "dark" ? kept : "auto";
  } catch {
    return "auto";
  }
}

/** The look that was chosen on this device. */
export const theme = signal<Theme>(recall());

/** What the browser's own bars take over, as the tokens have it for paper. */
const bars = { light: "#e6e8e4", dark: "#121516" } as const;

/** The bars of the browser go with the page, not with the device, where the keeper chose. */
function colourBars(chosen: Theme): void {
  for (const bar of document.querySelectorAll<HTMLMetaElement>("meta[name=theme-color]"))
    bar.content = bars[chosen === "auto" ? (bar.media.includes("dark") ? "dark" : "light") : chosen];
}

/** Puts the look on the page, and follows the device where it is left to it. */
export function startTheme(): void {
  effect(() => {
    const root = document.documentElement;
    if (theme.value === "auto") root.removeAttribute("data-theme");
    else root.dataset.theme = theme.value;
    colourBars(theme.value);
    try {
      localStorage.setItem(remembered, theme.value);
    } catch {
      // A private window may keep nothing: then it lasts until the reload.
    }
  });
}
