import type { JSX } from "preact";
import { Announcer } from "./components/announcer.tsx";
import { later } from "./components/later.tsx";
import { me, mustSignIn } from "./data/me.ts";
import { route } from "./data/route.ts";
import { AlarmsPage } from "./pages/alarms-page.tsx";
import { LinePage } from "./pages/line-page.tsx";
import { MorePage } from "./pages/more-page.tsx";
import { NodesPage } from "./pages/nodes-page.tsx";
import { SeenPage } from "./pages/seen-page.tsx";
import { SetUpPage, SignInPage } from "./pages/sign-in.tsx";

/** Pages by their name in the address, after the #. */
const pages: Readonly<Record<string, () => JSX.Element>> = {
  "": LinePage,
  nights: later("Nights", "NightsPage"),
  trend: later("Trend", "TrendPage"),
  alarms: AlarmsPage,
  nodes: NodesPage,
  more: MorePage,
  people: later("People", "PeoplePage"),
  "line-file": later("The line file", "LineFilePage"),
  draw: later("Draw the line", "DrawPage"),
  points: later("Point", "PointPage"),
  drums: later("Drum", "DrumPage"),
  wall: later("Wall", "WallPage"),
  messages: later("Messages", "MessagesPage"),
  seen: SeenPage,
  "set-up": SetUpPage,
};

/** The page that the address names, once the gateway knows who looks. */
export function App() {
  if (mustSignIn.value) return <SignInPage />;
  const Page =
    (route.value === "set-up" && !me.value?.setUp ? null : pages[route.value.split("/")[0] ?? ""]) ??
    LinePage;
  return (
    <>
      <Announcer />
      <Page />
    </>
  );
}
