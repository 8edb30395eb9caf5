import type { DrumView } from "@drumlin/gateway/contract";
import { gatewayHeardMs, gatewayNowMs, line, lost } from "../data/state.ts";
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
  const atMs = lost.value ? gatewayHeardMs.value : gatewayNowMs.value;
  const ownMs = drumSilentSince(line.value, drum, atMs);
  const isSilent = lost.value || ownMs !== null;
  const { verdict, since, reasons } = drum.water;
  const now = gatewayNowMs.value;
  // Since when the whole page hears nothing the bar above says once.
  const heard =
    ownMs === null ? "" : say(w.drum.lastHeard, { time: clock(new Date(ownMs).toISOString(), now) });
  const from = since === null || isSilent ? "" : say(w.drum.since, { time: clock(since, now) });
  if (isSilent && verdict === "use")
    return {
      word: "unknown",
      why: [say(w.drum.wasUse, { word: verdictWords("use") }), heard].filter(Boolean).join(" · "),
      silent: true,
    };
  const why = [from, ...reasons.map(sentenceOf), heard].filter(Boolean).join(" · ");
  return {
    word: verdict,
    why: capital(why),
    silent: isSilent,
  };
}
