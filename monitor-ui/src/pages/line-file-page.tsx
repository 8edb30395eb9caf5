import type { LineReference } from "@drumlin/gateway/contract";
import { useEffect, useState } from "preact/hooks";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { Field } from "../components/field.tsx";
import { Icon } from "../components/icon.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { ask } from "../data/send.ts";
import { count, language, say, w } from "../words/words.ts";

type LineKey = LineReference["sections"][number]["keys"][number];

function Key({ lineKey }: { readonly lineKey: LineKey }) {
  const { path, takes, isNeeded, what, unit, otherwise, example } = lineKey;
  const notes = [
    isNeeded ? w.lineFile.needed : null,
    unit === null ? null : say(w.lineFile.unit, { unit }),
    otherwise === null ? null : say(w.lineFile.leftOut, { otherwise }),
  ].filter((note) => note !== null);
  return (
    <div class="line-key">
      <dt>
        <code>{path}</code> <span class="soft">{takes}</span>
      </dt>
      <dd>
        <p>{what}</p>
        {notes.length > 0 && <p class="soft sm">{notes.join(" · ")}</p>}
        <p>
          <code>{example}</code>
        </p>
      </dd>
    </div>
  );
}

/** The page of the line file: every key that it can hold, found by a word. */
export function LineFilePage() {
  const [reference, setReference] = useState<LineReference | null | undefined>(undefined);
  const [word, setWord] = useState("");
  const load = () =>
    void ask<LineReference>(`/api/line/reference?language=${language.value}`).then(setReference);
  useEffect(load, [language.value]);
  const wanted = word.trim().toLowerCase();
  const sections = (reference?.sections ?? [])
    .map(({ title, keys }) => ({
      title,
      keys: keys.filter(({ path, what }) => `${path} ${what}`.toLowerCase().includes(wanted)),
    }))
    .filter(({ keys }) => keys.length > 0);
  return (
    <PageFrame title={w.lineFile.title}>
      <p>{say(w.lineFile.intro, { star: "*", channel: w.lineFile.channel })}</p>
      <div class="form">
        <Field label={w.lineFile.find} hint={w.lineFile.findHint}>
          <input type="search" value={word} onInput={({ currentTarget }) => setWord(currentTarget.value)} />
        </Field>
      </div>
      {reference === null && <CouldNotLoad what={w.lineFile.theKeys} again={load} />}
      {reference && sections.length === 0 && <p>{say(w.lineFile.noKey, { word })}</p>}
      {sections.map(({ title, keys }) => (
        // What is looked for lies open; the rest is folded, or the page would be as long as a book.
        <details key={`${title} ${wanted !== ""}`} class="sheet keys" open={wanted !== ""}>
          <summary>
            <Icon name="next" />
            <h2>{title}</h2>
            <span class="soft sm">{count(w.lineFile.keys, keys.length)}</span>
          </summary>
          <dl>
            {keys.map((lineKey) => (
              <Key key={lineKey.path} lineKey={lineKey} />
            ))}
          </dl>
        </details>
      ))}
    </PageFrame>
  );
}
