import type {
  AlarmChangeView,
  AlarmView,
  DrumView,
  LineView,
  LiveEvent,
  NodeView,
  PointView,
} from "@drumlin/gateway/contract";
import { earlyStream } from "./early.ts";
import { drawGathered, forgetGathered, gather } from "./gather.ts";
import { askMe, mustSignIn } from "./me.ts";
import { ask } from "./send.ts";
import { soundOn } from "./sound.ts";
import { alarms, gatewayAheadMs, heardMs, isResting, line, link, nowMs } from "./state.ts";

// The browser tries again after a cut, but not after a refusal (503, too many streams): then the page does.
const firstRetryMs = 1000;
const mostRetryMs = 30_000;
// A stream without a heartbeat for so long hangs (its network or its gateway does): it is opened anew.
const hangsAfterMs = 15_000;
// A browser has six connections to one gateway: tabs that nobody looks at must not hold them all.
const restingAskMs = 30_000;

let source: EventSource | null = null;
let wasOpen = false;
let resting: ReturnType<typeof setInterval> | undefined;
let retryMs = firstRetryMs;
let openedMs = 0;
let retry: ReturnType<typeof setTimeout> | undefined;

function replaced<Item extends { readonly id: string }>(items: readonly Item[], item: Item): Item[] {
  return items.some(({ id }) => id === item.id)
    ? items.map((old) => (old.id === item.id ? item : old))
    : [...items, item];
}

function takeAlarm({ alarm, to }: AlarmChangeView): void {
  const others = alarms.value.filter(({ key }) => key !== alarm.key);
  alarms.value = to === "normal" ? others : [alarm, ...others];
}

/** A hidden tab needs no stream unless it must be able to call. */
const unwatched = () => document.hidden && !soundOn.value;

/** After a refusal: when it is because nobody is signed in any more, the sign-in page is shown instead. */
async function tryAgain(): Promise<void> {
  await askMe();
  if (mustSignIn.value || unwatched()) return;
  clearTimeout(retry);
  retry = setTimeout(openLive, retryMs);
  retryMs = Math.min(mostRetryMs, retryMs * 2);
}

/** The gateway's clock beside this one's. Less than this is the way here and back: a page is not drawn anew for it. */
const sameClockMs = 400;
function takeClock(now: string, cameMs: number): void {
  const aheadMs = Date.parse(now) - cameMs;
  if (Math.abs(aheadMs - gatewayAheadMs.value) > sameClockMs) gatewayAheadMs.value = aheadMs;
}

function takeSnapshot(snapshot: { line: LineView; alarms: readonly AlarmView[] }, cameMs: number): void {
  forgetGathered();
  takeClock(snapshot.line.now, cameMs);
  line.value = snapshot.line;
  alarms.value = snapshot.alarms;
}

/** What is done with each event of the stream, by its name. */
const takes: { readonly [Name in LiveEvent["event"]]?: (data: never, cameMs: number) => void } = {
  snapshot: takeSnapshot,
  heartbeat({ now }: { now: string }, cameMs: number) {
    takeClock(now, cameMs);
  },
  line(next: LineView) {
    forgetGathered();
    line.value = next;
  },
  point(point: PointView) {
    gather(`point ${point.id}`, (shown) => ({ ...shown, points: replaced(shown.points, point) }));
  },
  drum(drum: DrumView) {
    gather(`drum ${drum.id}`, (shown) => ({ ...shown, drums: replaced(shown.drums, drum) }));
  },
  node(node: NodeView) {
    gather(`node ${node.id}`, (shown) => ({ ...shown, nodes: replaced(shown.nodes, node) }));
  },
  alarm(change: AlarmChangeView) {
    // Its numbers are those of what came before it.
    drawGathered();
    takeAlarm(change);
  },
};

const heardEveryMs = 1000;
function hear({ type, data, timeStamp }: MessageEvent<string>): void {
  // What was kept until this code was here is as old as it is.
  const cameMs = Math.round(Date.now() - (performance.now() - timeStamp));
  // Once a second: every piece of the page asks itself whether contact is lost when it changes.
  if (Math.abs(cameMs - heardMs.value) >= heardEveryMs) heardMs.value = cameMs;
  takes[type as LiveEvent["event"]]?.(JSON.parse(data) as never, cameMs);
}

function newStream(): EventSource {
  const stream = new EventSource("/api/live?every=500ms");
  for (const name of Object.keys(takes)) stream.addEventListener(name, hear);
  return stream;
}

/** Opens the live stream, or takes the one that was opened while this code was on its way; its first word is a snapshot of the line. */
export function openLive(): void {
  if (source) return;
  const stream = earlyStream(hear) ?? newStream();
  source = stream;
  openedMs = Date.now();
  stream.onopen = () => {
    // Meanwhile somebody else may have signed in, or the person chosen otherwise on another device.
    if (wasOpen) void askMe();
    wasOpen = true;
    retryMs = firstRetryMs;
    heardMs.value = Date.now();
    link.value = { open: true, sinceMs: Date.now() };
  };
  stream.onerror = () => {
    if (link.value.open) link.value = { open: false, sinceMs: Date.now() };
    if (stream.readyState !== EventSource.CLOSED || source !== stream) return;
    source = null;
    void tryAgain();
  };
  // It may have been opened, or refused, before anybody asked.
  if (stream.readyState === EventSource.OPEN) {
    wasOpen = true;
    link.value = { open: true, sinceMs: Date.now() };
  }
  if (stream.readyState === EventSource.CLOSED) {
    source = null;
    void tryAgain();
  }
}

/** Closes the live stream, until it is opened again. */
export function closeLive(): void {
  clearTimeout(retry);
  retryMs = firstRetryMs;
  source?.close();
  source = null;
  link.value = { open: false, sinceMs: Date.now() };
}

function reopenWhenHanging(): void {
  if (!source || nowMs.value - Math.max(openedMs, heardMs.value) <= hangsAfterMs) return;
  source.close();
  source = null;
  openLive();
}

/** What the tab's title and icon tell stays true while nobody looks. */
async function askWhileResting(): Promise<void> {
  const [now, standing] = await Promise.all([
    ask<LineView>("/api/line"),
    ask<{ items: AlarmView[] }>("/api/alarms"),
  ]);
  if (!isResting.value || !now || !standing) return;
  heardMs.value = Date.now();
  takeSnapshot({ line: now, alarms: standing.items }, heardMs.value);
}

function restOrWatch(): void {
  clearInterval(resting);
  nowMs.value = Date.now();
  isResting.value = unwatched();
  if (isResting.value) {
    closeLive();
    resting = setInterval(() => void askWhileResting(), restingAskMs);
  } else openLive();
}

/** Keeps the stream: it closes while the tab is hidden and silent, comes back with a snapshot, and is opened anew where it hangs. */
export function followLive(): void {
  document.addEventListener("visibilitychange", restOrWatch);
  setInterval(() => {
    // What was just drawn has set the clock too.
    if (Date.now() - nowMs.value > 900) nowMs.value = Date.now();
    reopenWhenHanging();
  }, 1000);
}
