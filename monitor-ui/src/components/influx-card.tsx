import type { InfluxView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../data/send.ts";
import { gatewayNowMs } from "../data/state.ts";
import { codeWords } from "../format/code-words.ts";
import { asSet, clock, duration } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";

function Waiting({ waiting: { batches, stretches, behindSeconds } }: Pick<InfluxView, "waiting">) {
  if (batches + stretches === 0) return <p class="sm soft">{w.influx.allSent}</p>;
  return (
    <p class="sm soft">
      {behindSeconds >= 60
        ? say(w.influx.notAllFor, { duration: duration(behindSeconds * 1000) })
        : w.influx.notAll}
    </p>
  );
}

/** How sending to InfluxDB goes, where the gateway does: what is wrong, what waits, what was refused. */
export function InfluxCard() {
  const [influx, show] = useState<InfluxView | null>(null);
  useEffect(() => void ask<InfluxView>("/api/influx").then(show), []);
  if (!influx || influx.server === null) return null;
  const { failure, aside } = influx;
  return (
    <section aria-label="InfluxDB">
      <article class="node">
        <h2>InfluxDB</h2>
        <p class="sm soft">{influx.server}</p>
        {failure && (
          <p class="problem">
            <b>{codeWords(failure.code, failure.title, "title")}.</b>{" "}
            {codeWords(failure.code, failure.todo, "todo")} <code>{failure.said}</code>
          </p>
        )}
        <Waiting waiting={influx.waiting} />
        {aside.length > 0 && (
          <details>
            <summary>
              {say(w.influx.pointsRefused, {
                count: asSet(aside.reduce((sum, { points }) => sum + points, 0)),
              })}
            </summary>
            <ul class="refused">
              {aside.map(({ code, measurement, title, todo, points, from, to, example }) => (
                <li key={`${code} ${measurement}`}>
                  <b>{codeWords(code, title, "title")}</b> (
                  {say(w.influx.span, {
                    count: asSet(points),
                    from: clock(from, gatewayNowMs.value),
                    to: clock(to, gatewayNowMs.value),
                  })}
                  ): {codeWords(code, todo, "todo")} <code>{example.slice(0, 80)}</code>
                </li>
              ))}
            </ul>
          </details>
        )}
      </article>
    </section>
  );
}
