import type { DrumView } from "@drumlin/gateway/contract";
import { gatewayAheadMs, gatewayNowMs, heardMs, line, lost } from "../data/state.ts";
import { say, w } from "../words/words.ts";
import { drumSilentSince, staleMs } from "./freshness.ts";
import { clock } from "./numbers.ts";
import { sentenceOf } from "./reasons.ts";
import { capital, verdictWords } from "./words.ts";

/** Litres to show: only from a fresh value that no test failed. */
export function litresOf({ volume }: DrumView): number | null {
  const old = volume.at === null || gatewayNowMs.value - Date.parse(volume.at) > staleMs;
  return lost.value || old || volume.flag === 4 || volume.flag === 9 ? null : volume.value;
}

/** Litres that were last known, where none are known now; else null. */
export function litresBefore(drum: DrumView): number | null {
  return litresOf(drum) === null && drum.volume.flag !== 4
    ? (drum.volume.value ?? drum.volume.was ?? null)
    : null;
}

/** What the page may say of a drum's water: a drum or a page that hears nothing can't say "use"; "hold" stays. */
export function wordOf(drum: DrumView): {
  readonly word: DrumView["water"]["verdict"];
  readonly why: string;
  readonly silent: boolean;
} {
  const silentMs = lost.value
    ? heardMs.value + gatewayAheadMs.value
    : drumSilentSince(line.value, drum, gatewayNowMs.value);
  const { verdict, since, reasons } = drum.water;
  const now = gatewayNowMs.value;
  const heard =
    silentMs === null ? "" : say(w.drum.lastHeard, { time: clock(new Date(silentMs).toISOString(), now) });
  const from = since === null || silentMs !== null ? "" : say(w.drum.since, { time: clock(since, now) });
  if (silentMs !== null && verdict === "use")
    return {
      word: "unknown",
      why: `${say(w.drum.wasUse, { word: verdictWords("use") })} · ${heard}`,
      silent: true,
    };
  const why = [from, ...reasons.map(sentenceOf), heard].filter(Boolean).join(" · ");
  return {
    word: verdict,
    why: capital(why),
    silent: silentMs !== null,
  };
}
