import type { DerivationView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../data/send.ts";
import { gatewayNowMs } from "../data/state.ts";
import { clock } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";

/** How far the past is worked out anew, while that is so. */
export function DerivationCard() {
  const [derivation, show] = useState<DerivationView | null>(null);
  useEffect(() => void ask<DerivationView>("/api/derivation").then(show), []);
  if (!derivation || derivation.waiting === 0) return null;
  const { running, failure } = derivation;
  return (
    <section aria-label={w.derivation.title}>
      <article class="node">
        <h2>{w.derivation.title}</h2>
        <p class="sm soft">
          {running
            ? say(w.derivation.since, {
                from: clock(running.from, gatewayNowMs.value),
                percent: String(running.percent),
              })
            : w.derivation.waits}
        </p>
        {failure !== null && <p class="problem">{say(w.derivation.failed, { why: failure })}</p>}
      </article>
    </section>
  );
}
