import type {
  AlarmChangeView,
  AlarmView,
  DrumView,
  LineView,
  NodeView,
  PointView,
} from "@drumlin/gateway/contract";
import { askMe, mustSignIn } from "./me.ts";
import { alarms, gatewayAheadMs, line, link, nowMs } from "./state.ts";

// The browser tries again after a cut, but not after a refusal (503, too many streams): then the page does.
const firstRetryMs = 1000;
const mostRetryMs = 30_000;

let source: EventSource | null = null;
let retryMs = firstRetryMs;
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

/** After a refusal: when it is because nobody is signed in any more, the sign-in page is shown instead. */
async function tryAgain(): Promise<void> {
  await askMe();
  if (mustSignIn.value || document.hidden) return;
  clearTimeout(retry);
  retry = setTimeout(open, retryMs);
  retryMs = Math.min(mostRetryMs, retryMs * 2);
}

function open(): void {
  if (source) return;
  const stream = new EventSource("/api/live?every=500ms");
  source = stream;
  const on = <Data>(event: string, take: (data: Data) => void) =>
    stream.addEventListener(event, (message) =>
      take(JSON.parse((message as MessageEvent<string>).data) as Data),
    );
  stream.onopen = () => {
    retryMs = firstRetryMs;
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

/** Opens the live stream; it closes while the tab is hidden and comes back with a snapshot. */
export function openLive(): void {
  open();
  document.addEventListener("visibilitychange", () => (document.hidden ? close() : open()));
  setInterval(() => {
    nowMs.value = Date.now();
  }, 1000);
}
