import type { JSX } from "preact";
import { Announcer } from "./components/announcer.tsx";
import { later } from "./components/later.tsx";
import { me, mustSignIn } from "./data/me.ts";
import { route } from "./data/route.ts";
import { AlarmsPage } from "./pages/alarms-page.tsx";
import { LinePage } from "./pages/line-page.tsx";
import { SignInPage } from "./pages/sign-in.tsx";
import { w } from "./words/words.ts";

/** Pages by their name in the address, after the #. */
const pages: Readonly<Record<string, () => JSX.Element>> = {
  "": LinePage,
  nights: later(() => w.frame.nights, "NightsPage"),
  trend: later(() => w.frame.trend, "TrendPage"),
  compare: later(() => w.compare.title, "ComparePage"),
  alarms: AlarmsPage,
  nodes: later(() => w.frame.nodes, "NodesPage"),
  more: later(() => w.frame.more, "MorePage"),
  people: later(() => w.frame.people, "PeoplePage"),
  "line-file": later(() => w.lineFile.title, "LineFilePage"),
  draw: later(() => w.moreWords.draw, "DrawPage"),
  points: later(() => w.point.point, "PointPage"),
  drums: later(() => w.drum.drum, "DrumPage"),
  wall: later(() => w.frame.wall, "WallPage"),
  messages: later(() => w.frame.messages, "MessagesPage"),
  seen: later(() => w.door.seenTitle, "SeenPage"),
  "set-up": later(() => w.door.firstAccount, "SetUpPage"),
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
