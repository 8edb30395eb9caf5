import { render } from "preact";
import { App } from "./app.tsx";
import { openLive } from "./data/live.ts";
import { askMe, mustSignIn } from "./data/me.ts";
import { route } from "./data/route.ts";
import { startSound } from "./data/sound.ts";
import { startTab } from "./data/tab.ts";
import { startTheme } from "./data/theme.ts";
import "./style/all.css";

const page = document.getElementById("page");
if (page) {
  startTheme();
  await askMe();
  render(<App />, page);
  if (!mustSignIn.value) {
    openLive();
    startSound();
    startTab(route);
  }
}
