import type { JSX } from "preact";
import { Announcer } from "./components/announcer.tsx";
import { me, mustSignIn } from "./data/me.ts";
import { route } from "./data/route.ts";
import { AlarmsPage } from "./pages/alarms-page.tsx";
import { DrawPage } from "./pages/draw-page.tsx";
import { DrumPage } from "./pages/drum-page.tsx";
import { LineFilePage } from "./pages/line-file-page.tsx";
import { LinePage } from "./pages/line-page.tsx";
import { MessagesPage } from "./pages/messages-page.tsx";
import { MorePage } from "./pages/more-page.tsx";
import { NightsPage } from "./pages/nights-page.tsx";
import { NodesPage } from "./pages/nodes-page.tsx";
import { PeoplePage } from "./pages/people-page.tsx";
import { PointPage } from "./pages/point-page.tsx";
import { SeenPage } from "./pages/seen-page.tsx";
import { SetUpPage, SignInPage } from "./pages/sign-in.tsx";
import { TrendPage } from "./pages/trend-page.tsx";
import { WallPage } from "./pages/wall-page.tsx";

/** Pages by their name in the address, after the #. */
const pages: Readonly<Record<string, () => JSX.Element>> = {
  "": LinePage,
  nights: NightsPage,
  trend: TrendPage,
  alarms: AlarmsPage,
  nodes: NodesPage,
  more: MorePage,
  people: PeoplePage,
  "line-file": LineFilePage,
  draw: DrawPage,
  points: PointPage,
  drums: DrumPage,
  wall: WallPage,
  messages: MessagesPage,
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
