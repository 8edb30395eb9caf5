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

/** Puts the look on the page, and follows the device where it is left to it. */
export function startTheme(): void {
  effect(() => {
    const root = document.documentElement;
    if (theme.value === "auto") root.removeAttribute("data-theme");
    else root.dataset.theme = theme.value;
    try {
      localStorage.setItem(remembered, theme.value);
    } catch {
      // A private window may keep nothing: then it lasts until the reload.
    }
  });
}
