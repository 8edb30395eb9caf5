import type { InfluxView } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../data/send.ts";
import { gatewayNowMs } from "../data/state.ts";
import { clock, duration } from "../format/numbers.ts";

function Waiting({ waiting: { batches, stretches, behindSeconds } }: Pick<InfluxView, "waiting">) {
  if (batches + stretches === 0) return <p class="sm soft">Everything is sent.</p>;
  return (
    <p class="sm soft">
      Not everything is sent yet
      {behindSeconds >= 60 && `, for ${duration(behindSeconds * 1000)}`}. The gateway keeps it and sends it by
      itself.
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
            <b>{failure.title}.</b> {failure.todo} <code>{failure.said}</code>
          </p>
        )}
        <Waiting waiting={influx.waiting} />
        {aside.length > 0 && (
          <details>
            <summary>
              {aside.reduce((sum, { points }) => sum + points, 0)} points refused: what and why
            </summary>
            <ul class="refused">
              {aside.map(({ code, measurement, title, todo, points, from, to, example }) => (
                <li key={`${code} ${measurement}`}>
                  <b>{title}</b> ({points}×, {clock(from, gatewayNowMs.value)} to{" "}
                  {clock(to, gatewayNowMs.value)}
                  ): {todo} <code>{example.slice(0, 80)}</code>
                </li>
              ))}
            </ul>
          </details>
        )}
      </article>
    </section>
  );
}
