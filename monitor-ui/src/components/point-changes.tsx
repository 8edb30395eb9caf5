import { useAsked } from "../data/asked.ts";
import { gatewayNowMs } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { clock } from "../format/numbers.ts";
import { w } from "../words/words.ts";
import { Card } from "./card.tsx";
import { CouldNotLoad } from "./could-not-load.tsx";

interface Changed {
  readonly at: string;
  readonly by: string;
  readonly what: string;
  readonly subject: string;
  readonly before: { readonly value?: unknown } | null;
  readonly after: { readonly value?: unknown } | null;
}

/** A value of the line file in words: a channel by its name, nothing as "none". */
function valueWords(value: unknown): string {
  if (value === null || value === undefined) return w.point.changedNone;
  if (typeof value === "object" && "channel" in value) return String(value.channel);
  // Units as a screen has them, not as the file is typed.
  return typeof value === "object" ? JSON.stringify(value) : String(value).replace(/\buS\/cm/, "µS/cm");
}

/** Limits and channels of a point as people changed them: before and after, who and when, newest first. */
export function PointChanges({ id }: { readonly id: string }) {
  const { answer, again } = useAsked<{ items: Changed[] }>("/api/audit?limit=1000", id);
  const limits = ["resin-breakthrough", "membrane-passing"].map((name) => `limits.${name}:${id}.limit`);
  const own = (answer?.items ?? []).filter(
    ({ what, subject }) =>
      what === "line-changed" && (limits.includes(subject) || subject.startsWith(`points.${id}.`)),
  );
  if (answer === null) return <CouldNotLoad what={w.point.changedWhat} again={again} />;
  if (own.length === 0) return null;
  return (
    <Card title={w.point.changedHere}>
      <ol class="log days">
        {own.slice(0, 12).map(({ at, by, subject, before, after }) => (
          <li key={`${at}${subject}`}>
            <time dateTime={at}>{clock(at, gatewayNowMs.value)}</time>
            <span>
              <b>{limits.includes(subject) ? w.point.changedLimit : subject.slice(`points.${id}.`.length)}</b>
              {`: ${valueWords(before?.value)} → ${valueWords(after?.value)} · ${byWords(by)}`}
            </span>
          </li>
        ))}
      </ol>
    </Card>
  );
}
