import { effect } from "@preact/signals";
import { render } from "preact";
import { App } from "./app.tsx";
import { keepSettings } from "./data/keep-settings.ts";
import { openLive } from "./data/live.ts";
import { askMe, mustSignIn } from "./data/me.ts";
import { route } from "./data/route.ts";
import { startSound } from "./data/sound.ts";
import { startTab } from "./data/tab.ts";
import { startTheme } from "./data/theme.ts";
import { language, startWords } from "./words/words.ts";
import "./style/all.css";

const page = document.getElementById("page");
/** The worker that shows messages, and a page that says so when there is no contact. */
function startWorker(): void {
  if (!isSecureContext || !("serviceWorker" in navigator)) return;
  // A browser that refuses it shows its own page when there is no contact.
  navigator.serviceWorker.register("/service-worker.js").catch(() => {});
}

if (page) {
  addEventListener("load", startWorker);
  startTheme();
  keepSettings();
  effect(() => {
    document.documentElement.lang = language.value;
  });
  await Promise.all([askMe(), startWords()]);
  render(<App />, page);
  if (!mustSignIn.value) {
    openLive();
    startSound();
    startTab(route);
    // While there is contact: the other pages must open without it too.
    setTimeout(() => void import("./pages/later-pages.ts").catch(() => {}), 3000);
  }
}
