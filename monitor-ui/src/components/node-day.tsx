import type { NodeView } from "@drumlin/gateway/contract";
import { type DayRecords, type Silence, silencesOf, spanOfDay } from "../data/node-days.ts";
import { gatewayNowMs, lost } from "../data/state.ts";
import { clock } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";

interface NodeDayProps {
  readonly node: NodeView;
  readonly records: DayRecords;
}

/** Silences that are told in words; the strip shows all. */
const maxTold = 4;

const at = (ms: number, nowMs: number) => clock(new Date(ms).toISOString(), nowMs);

/** "not heard 01:17 to 01:36 (ec-1, t-1)". */
function silenceWords({ fromMs, toMs, channels }: Silence, nowMs: number): string {
  const isNow = toMs >= nowMs - 1000;
  const said = say(isNow ? w.nodeWords.notHeardSince : w.nodeWords.notHeardFromTo, {
    from: at(fromMs, nowMs),
    to: at(toMs, nowMs),
  });
  return channels.length === 0 ? said : `${said} (${channels.join(", ")})`;
}

/** A node's last day as a strip: hatched where it, or a channel of it, was not heard; and in words. */
export function NodeDay({ node, records }: NodeDayProps) {
  const nowMs = gatewayNowMs.value;
  const { fromMs, knownMs } = spanOfDay(records, node.id, nowMs);
  const isGone = lost.value || node.online === false;
  const lastMs = node.lastSeen === null ? fromMs : Math.max(fromMs, Date.parse(node.lastSeen));
  const silences = silencesOf(
    isGone
      ? {
          gaps: [...records.gaps, { of: "gateway" as const, subject: "", fromMs: lastMs, toMs: null }],
        }
      : records,
    node.id,
    nowMs,
  );
  const box = (from: number, to: number) => ({
    left: `${(100 * (from - fromMs)) / (nowMs - fromMs)}%`,
    width: `${(100 * (to - from)) / (nowMs - fromMs)}%`,
  });
  const told = silences.slice(-maxTold).map((silence) => silenceWords(silence, nowMs));
  const words = [
    ...(silences.length > maxTold ? [say(w.nodeWords.silences, { count: silences.length })] : []),
    ...(told.length > 0 ? told : [w.nodeWords.heardAll]),
    ...(knownMs > fromMs ? [say(w.nodeWords.knownSince, { time: at(knownMs, nowMs) })] : []),
  ];
  return (
    <div class="node-day">
      <div class="dayline" aria-hidden="true">
        {knownMs > fromMs && <i class="before" style={box(fromMs, knownMs)} />}
        {silences.map((silence) => (
          <i key={silence.fromMs} style={box(silence.fromMs, silence.toMs)} />
        ))}
      </div>
      <div class="axis" aria-hidden="true">
        <span>{say(w.nodeWords.hoursAgo, { count: 24 })}</span>
        <span>{say(w.nodeWords.hoursAgo, { count: 12 })}</span>
        <span>{w.frame.now}</span>
      </div>
      <p class="sm">{`${w.nodeWords.lastDay} ${words.join(" · ")}`}</p>
    </div>
  );
}
