import { effect } from "@preact/signals";
import { render } from "preact";
import { App } from "./app.tsx";
import { keepSettings } from "./data/keep-settings.ts";
import { closeLive, followLive, openLive } from "./data/live.ts";
import { askMe, me, mustSignIn } from "./data/me.ts";
import { route } from "./data/route.ts";
import { startSound } from "./data/sound.ts";
import { line } from "./data/state.ts";
import { startTab } from "./data/tab.ts";
import { startTheme } from "./data/theme.ts";
import { keepUnits } from "./format/with-units.ts";
import { language, startWords, wordsHere } from "./words/words.ts";
import "./style/all.css";

const page = document.getElementById("page");
/** The worker that shows messages, and a page that says so when there is no contact. */
function startWorker(): void {
  if (!isSecureContext || !("serviceWorker" in navigator)) return;
  // A browser that refuses it shows its own page when there is no contact.
  navigator.serviceWorker.register("/service-worker.js").catch(() => {});
}

/** The page is drawn after so long, whatever is still waited for, ms: an answer that hangs must not leave it empty. */
const drawnAfterMs = 1500;

/** Waits until there is something to draw: the line and who looks, or that somebody must sign in first. */
async function somethingToDraw(): Promise<void> {
  const told = new Promise<void>((resolve) => {
    effect(() => {
      if (mustSignIn.value || (me.value !== null && line.value !== null)) resolve();
    });
  });
  const late = new Promise<void>((resolve) => setTimeout(resolve, drawnAfterMs));
  // The stream, the words and who looks are asked for at once: one after the other they took the first second.
  openLive();
  startWords();
  // Who looks may have chosen another language on another device.
  await Promise.race([late, Promise.all([told, askMe().then(wordsHere)])]);
}

if (page) {
  addEventListener("load", startWorker);
  startTheme();
  keepSettings();
  keepUnits();
  effect(() => {
    document.documentElement.lang = language.value;
  });
  await somethingToDraw();
  render(<App />, page);
  if (mustSignIn.value) closeLive();
  else {
    followLive();
    startSound();
    startTab(route);
    // While there is contact: the other pages must open without it too.
    setTimeout(() => void import("./pages/later-pages.ts").catch(() => {}), 3000);
  }
}
