import type {
  AlarmChangeView,
  AlarmView,
  DrumView,
  LineView,
  NodeView,
  PointView,
} from "@drumlin/gateway/contract";
import { askMe, mustSignIn } from "./me.ts";
import { soundOn } from "./sound.ts";
import { alarms, gatewayAheadMs, heardMs, line, link, nowMs } from "./state.ts";

// The browser tries again after a cut, but not after a refusal (503, too many streams): then the page does.
const firstRetryMs = 1000;
const mostRetryMs = 30_000;
// A stream without a heartbeat for so long hangs (its network or its gateway does): it is opened anew.
const hangsAfterMs = 15_000;

let source: EventSource | null = null;
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
  retry = setTimeout(open, retryMs);
  retryMs = Math.min(mostRetryMs, retryMs * 2);
}

function open(): void {
  if (source) return;
  const stream = new EventSource("/api/live?every=500ms");
  source = stream;
  openedMs = Date.now();
  const on = <Data>(event: string, take: (data: Data) => void) =>
    stream.addEventListener(event, (message) => {
      heardMs.value = Date.now();
      take(JSON.parse((message as MessageEvent<string>).data) as Data);
    });
  stream.onopen = () => {
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
  on<{ line: LineView; alarms: AlarmView[] }>("snapshot", (snapshot) => {
    gatewayAheadMs.value = Date.parse(snapshot.line.now) - Date.now();
    line.value = snapshot.line;
    alarms.value = snapshot.alarms;
  });
  on<{ now: string }>("heartbeat", ({ now }) => {
    gatewayAheadMs.value = Date.parse(now) - Date.now();
  });
  on<LineView>("line", (next) => {
    line.value = next;
  });
  on<PointView>("point", (point) => {
    if (line.value)
      line.value = { ...line.value, points: replaced(line.value.points, point) as LineView["points"] };
  });
  on<DrumView>("drum", (drum) => {
    if (line.value)
      line.value = { ...line.value, drums: replaced(line.value.drums, drum) as LineView["drums"] };
  });
  on<NodeView>("node", (node) => {
    if (line.value)
      line.value = { ...line.value, nodes: replaced(line.value.nodes, node) as LineView["nodes"] };
  });
  on<AlarmChangeView>("alarm", takeAlarm);
}

function close(): void {
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
  open();
}

/** Opens the live stream; it closes while the tab is hidden and silent, and comes back with a snapshot. */
export function openLive(): void {
  open();
  document.addEventListener("visibilitychange", () => (unwatched() ? close() : open()));
  setInterval(() => {
    nowMs.value = Date.now();
    reopenWhenHanging();
  }, 1000);
}
