import type { LineView } from "@drumlin/gateway/contract";
import { AlarmRows } from "../components/alarm-row.tsx";
import { FirstSteps } from "../components/first-steps.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { me } from "../data/me.ts";
import { line, lost } from "../data/state.ts";
import { LinePicture } from "../line/line-picture.tsx";
import { count, w } from "../words/words.ts";

/** The page Line: what stands in a line each, the drums, the line as it is drawn. */
export function LinePage() {
  const shown = line.value;
  return (
    <PageFrame title={w.frame.line} spoken>
      <AlarmRows />
      {shown === null ? (
        <p class="soft">{lost.value ? w.lineWords.stillNoAnswer : w.frame.connecting}</p>
      ) : (
        <>
          <NextStep line={shown} />
          {shown.waitsFor.length > 0 && shown.nodes.length === 0 && <FirstSteps line={shown} />}
          {(shown.stages.length > 0 || shown.points.length > 1 || shown.drums.length > 0) && (
            <LinePicture line={shown} notes={lost.value ? <WhatToCheck /> : undefined} />
          )}
        </>
      )}
    </PageFrame>
  );
}

/** Until the first number is here: what the line still needs, and the way there. */
function NextStep({ line: { stages, drums, points, nodes, waitsFor } }: { readonly line: LineView }) {
  const isDrawn = stages.length > 0 || drums.length > 0 || points.length > 1;
  const isPlaced = points.some(({ hasProbe }) => hasProbe) || drums.some(({ floats }) => floats.length > 0);
  const free = nodes.reduce((sum, { unassigned }) => sum + unassigned.length, 0);
  if (isDrawn && (isPlaced || waitsFor.length > 0)) return null;
  const [title, says, href, words] = me.value?.setUp
    ? [w.next.nothingDrawn, w.next.accountFirst, "#set-up", w.door.makeAccount]
    : !isDrawn
      ? [w.next.nothingDrawn, w.next.choosePicture, "#draw/picture", w.next.draw]
      : free > 0
        ? [w.next.drawn, count(w.next.heard, free), "#draw/places", w.next.place]
        : [w.next.drawn, w.next.nowSecret, "#draw/nodes", w.next.addNode];
  return (
    <section class="first-steps" aria-labelledby="next-step">
      <h2 id="next-step" class="h1">
        {title}
      </h2>
      <p class="soft">{says}</p>
      <p>
        <a class="btn first" href={href}>
          {words}
        </a>
      </p>
    </section>
  );
}

function WhatToCheck() {
  return (
    <section class="note">
      <h2>{w.lineWords.whatToCheck}</h2>
      <p>{w.lineWords.checkFirst}</p>
      <p class="soft">{w.lineWords.checkFloats}</p>
    </section>
  );
}
