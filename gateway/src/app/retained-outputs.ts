import { gatewayTopic } from "@drumlin/firmware-protocol";
import type { Alarm } from "../alarms/index.ts";
import type { Broker } from "../broker/index.ts";
import { type AlarmView, alarmView, type LineView, type Told } from "../http/index.ts";

/** A topic is told at most so often; the latest wins. */
const everyMs = 1000;
/** After a start, retained words of an earlier run have come back by then. */
const clearAfterMs = 3000;

interface RetainedOutputNeeds {
  readonly site: string;
  readonly broker: Pick<Broker, "tell" | "toldBefore" | "onConnected">;
  readonly lineView: () => LineView | null;
  readonly standing: () => readonly Alarm[];
  readonly subscribe: (listener: (told: Told) => void) => () => void;
}

/**
 * What other programs on the broker can read, retained: `gateway/points/{id}`, `gateway/drums/{id}`,
 * `gateway/alarms/{key}`, each as the API shows it. Told anew at the start; what has ended is taken away.
 */
export function createRetainedOutputs(needs: RetainedOutputNeeds) {
  const { site, broker } = needs;
  // By topic: what will be told of it when its time comes, "" to take it away.
  const waiting = new Map<string, () => string>();
  const told = new Set<string>();
  /** Changes whose text waits already: most are told many times until then. */
  const waitingFor = new Set<Told>();
  let clearing: NodeJS.Timeout | undefined;
  const put = (kind: "points" | "drums" | "alarms", id: string, text: () => string) =>
    waiting.set(gatewayTopic(site, `${kind}/${id}`), text);
  const putAlarm = (alarm: AlarmView) =>
    put("alarms", alarm.key, () => (alarm.state === "normal" ? "" : JSON.stringify(alarm)));

  function all(): void {
    waitingFor.clear();
    const view = needs.lineView();
    for (const point of view?.points ?? []) put("points", point.id, () => JSON.stringify(point));
    for (const drum of view?.drums ?? []) put("drums", drum.id, () => JSON.stringify(drum));
    for (const alarm of needs.standing()) putAlarm(alarmView(alarm));
  }

  function flush(): void {
    waitingFor.clear();
    for (const [topic, text] of waiting) {
      const payload = text();
      broker.tell(topic, payload);
      if (payload === "") told.delete(topic);
      else told.add(topic);
    }
    waiting.clear();
  }

  // Of what is told again and again: its topic, and how its text is made.
  const outputs = new WeakMap<Told, readonly [topic: string, text: () => string]>();
  function outputOf(kind: "points" | "drums", id: string, change: Told): readonly [string, () => string] {
    const made: readonly [string, () => string] = [
      gatewayTopic(site, `${kind}/${id}`),
      () => {
        const event = change.view();
        return event ? JSON.stringify(event.data) : "";
      },
    ];
    outputs.set(change, made);
    return made;
  }

  const unsubscribe = needs.subscribe((change) => {
    if (waitingFor.has(change)) return;
    const { key, about } = change;
    if (about?.kind === "point" || about?.kind === "drum") {
      const [topic, text] = outputs.get(change) ?? outputOf(`${about.kind}s`, about.id, change);
      waiting.set(topic, text);
      waitingFor.add(change);
    } else if (key === null) {
      const event = change.view();
      if (event?.event === "alarm") putAlarm(event.data.alarm);
      else if (event?.event === "line") all();
    }
  });
  const flushing = setInterval(flush, everyMs);
  /** Everything is told anew, and what an earlier time left there and no longer stands is taken away. */
  function anew(): void {
    told.clear();
    all();
    clearTimeout(clearing);
    clearing = setTimeout(() => {
      for (const topic of broker.toldBefore())
        if (!told.has(topic) && !topic.endsWith("/presence")) broker.tell(topic, "");
    }, clearAfterMs);
  }
  anew();
  broker.onConnected(anew);

  return {
    stop(): void {
      unsubscribe();
      clearInterval(flushing);
      clearTimeout(clearing);
      flush();
    },
  };
}
