/** Pages that are asked for in one file, after the Line stands: charts, forms, lists. */
export { ComparePage } from "./compare-page.tsx";
export { DrawPage } from "./draw-page.tsx";
export { DrumPage } from "./drum-page.tsx";
export { LineFilePage } from "./line-file-page.tsx";
export { MessagesPage } from "./messages-page.tsx";
export { MorePage } from "./more-page.tsx";
export { NightsPage } from "./nights-page.tsx";
export { NodesPage } from "./nodes-page.tsx";
export { PeoplePage } from "./people-page.tsx";
export { PointPage } from "./point-page.tsx";
export { SeenPage } from "./seen-page.tsx";
export { SetUpPage } from "./sign-in.tsx";
export { TrendPage } from "./trend-page.tsx";
export { WallPage } from "./wall-page.tsx";
