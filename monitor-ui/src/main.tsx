import { render } from "preact";
import { openLive } from "./data/live.ts";
import { LinePage } from "./pages/line-page.tsx";
import "./look.css";

const page = document.getElementById("page");
if (page) {
  render(<LinePage />, page);
  openLive();
}
