import type { LineDrawing, LinePictures } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { Sheet } from "../components/sheet.tsx";
import { ActAnswer, useActs } from "../components/use-acts.tsx";
import { useAsked } from "../data/asked.ts";
import { choosePicture } from "../data/drawing.ts";
import { goTo } from "../data/route.ts";
import { say, w } from "../words/words.ts";
import { chainOf } from "./rows.ts";

type Picture = LinePictures["items"][number];

/** What a picture is called here; one that the page does not know is called as the gateway calls it. */
function named({ id, title, words }: Picture): { readonly title: string; readonly words: string } {
  const known: Readonly<Record<string, { readonly title: string; readonly words: string }>> = w.draw.pictures;
  return (Object.hasOwn(known, id) ? known[id] : undefined) ?? { title, words };
}

/** A picture, small: housings on the pipe, drums under it. */
function Thumb({ picture }: { readonly picture: Picture }) {
  const { kinds, hung } = chainOf(picture);
  const step = 200 / (kinds.length + 1.5);
  const x = (at: number) => 12 + at * step;
  return (
    <svg class="place" viewBox="0 0 212 72" aria-hidden="true">
      <path class="p" d={`M2 22H${Math.max(x(kinds.length), ...hung.map((at) => x(at) + step / 2))}`} />
      {hung.map((at) => {
        const here = x(at) + step / 2;
        return (
          <g key={at}>
            <path class="p" d={`M${here} 22v16`} />
            <path class="dr" d={`M${here - 12} 52h24v16h-24z`} />
            <path class="p thin" d={`M${here - 12} 42v26h24V42`} />
          </g>
        );
      })}
      {kinds.map((kind, at) => {
        const left = x(at + 1) - step / 2 - 9;
        return kind === "membrane" ? (
          <path key={`${kind}${left}`} class="b" d={`M${left} 12h20v20h-20ZM${left} 32l20-20`} />
        ) : (
          <path
            key={`${kind}${left}`}
            class="b"
            d={`M${left} 12h18v7h-18ZM${left + 2} 19h14v17a6 6 0 0 1-6 6h-2a6 6 0 0 1-6-6Z`}
          />
        );
      })}
    </svg>
  );
}

/** Which picture is most like the line; what is drawn already is replaced only when that is said again. */
export function PictureStep({ drawing }: { readonly drawing: LineDrawing }) {
  const { answer, again } = useAsked<LinePictures>("/api/line/pictures", drawing.title);
  const [asked, ask] = useState<Picture | null>(null);
  const acts = useActs();
  const isDrawn = drawing.stages.length > 0 || drawing.drums.length > 0;
  const choose = async (picture: Picture) => {
    ask(null);
    const taken = await acts.run(picture.id, "", () =>
      choosePicture(say(w.draw.picture, { title: named(picture).title }), picture.yaml),
    );
    if (taken) goTo("draw/parts");
  };
  if (answer === null) return <CouldNotLoad what={w.draw.thePictures} again={again} />;
  return (
    <div ref={acts.host}>
      <h2>{w.draw.whichPicture}</h2>
      <p class="soft sm">{w.draw.noneFits}</p>
      <div class="choices">
        {(answer?.items ?? []).map((picture) => (
          <button
            type="button"
            key={picture.id}
            class="choice"
            aria-disabled={acts.busy !== ""}
            onClick={() => (isDrawn ? ask(picture) : void choose(picture))}
          >
            <Thumb picture={picture} />
            <b>{acts.busy === picture.id ? w.frame.saving : named(picture).title}</b>
            <span>{named(picture).words}</span>
          </button>
        ))}
      </div>
      <ActAnswer acts={acts} />
      {asked && (
        <Sheet title={w.draw.anew} onClose={() => ask(null)}>
          <p>{say(w.draw.anewWhat, { title: named(asked).title })}</p>
          <div class="acts">
            <button type="button" class="btn first" onClick={() => void choose(asked)}>
              {w.draw.replaceDrawing}
            </button>
            <button type="button" class="btn" onClick={() => ask(null)}>
              {w.draw.leaveIt}
            </button>
          </div>
        </Sheet>
      )}
    </div>
  );
}
