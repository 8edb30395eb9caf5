import { useEffect } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { Command } from "../components/command.tsx";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { ActAnswer, ActButton, useActs } from "../components/use-acts.tsx";
import { drawing, lastMade, loadDrawing, takeBack } from "../data/drawing.ts";
import { mayAct, me } from "../data/me.ts";
import { route } from "../data/route.ts";
import { line } from "../data/state.ts";
import { NodeStep } from "../draw/node-step.tsx";
import { PartStep } from "../draw/part-step.tsx";
import { PictureStep } from "../draw/picture-step.tsx";
import { PlaceStep } from "../draw/place-step.tsx";
import { faultWords } from "../format/problems.ts";
import { say, w } from "../words/words.ts";

const steps = [
  { name: "picture" },
  { name: "parts" },
  { name: "nodes" },
  { name: "places" },
  { name: "file" },
] as const;

/** What was changed last, and the way back: it stays over steps and a reload. */
function UndoLast() {
  const acts = useActs();
  const last = lastMade();
  return (
    <div class="undo undo-last" ref={acts.host}>
      {last && (
        <>
          <span>{last.what}</span>
          <ActButton
            acts={acts}
            name={w.draw.undo}
            subject={last.what}
            done={say(w.draw.undone, { what: last.what })}
            send={takeBack}
          />
        </>
      )}
      <ActAnswer acts={acts} />
    </div>
  );
}

/** The page that draws the line: each step is saved at once, so leaving loses nothing. */
export function DrawPage() {
  const asked = route.value.split("/")[1];
  const shown = drawing.value;
  const isDrawn = shown ? shown.stages.length > 0 || shown.drums.length > 0 : false;
  const at = Math.max(
    0,
    steps.findIndex(({ name }) => name === (asked ?? (isDrawn ? "parts" : "picture"))),
  );
  // What is heard, and what somebody else changes, shows by itself.
  const heard = (line.value?.nodes ?? [])
    .flatMap(({ unassigned }) => unassigned.map(({ channel }) => channel))
    .join();
  const parts = [...(line.value?.points ?? []), ...(line.value?.drums ?? [])]
    .map(({ id, title }) => `${id} ${title}`)
    .join();
  useEffect(() => void loadDrawing(), [heard, parts]);
  const step = steps[at] ?? steps[0];
  const next = steps[at + 1];
  const before = steps[at - 1];
  return (
    <PageFrame title={w.moreWords.draw}>
      <nav class="wiz-nav" aria-label={w.draw.stepsLabel}>
        <ol class="wiz">
          {steps.map(({ name }, place) => (
            <li key={name} class={place === at ? "cur" : ""}>
              <a href={`#draw/${name}`} aria-current={place === at ? "step" : undefined}>
                <i>{place + 1}</i>
                <span>{w.draw.steps[name]}</span>
              </a>
            </li>
          ))}
        </ol>
      </nav>
      {!mayAct.value && !me.value?.setUp && <p class="bar-note">{w.draw.mayLook}</p>}
      {shown === null && <CouldNotLoad what={w.draw.theLine} again={() => void loadDrawing()} />}
      {shown && line.value && (
        <div class="draw-step" key={step.name}>
          {step.name === "picture" && <PictureStep drawing={shown} />}
          {step.name === "parts" && <PartStep drawing={shown} />}
          {step.name === "nodes" && <NodeStep drawing={shown} line={line.value} />}
          {step.name === "places" && <PlaceStep drawing={shown} line={line.value} />}
          {step.name === "file" && (
            <Card title={w.lineFile.title} beside={<a href="#line-file">{w.draw.keysExplained}</a>}>
              <p class="soft">{w.draw.fileWhat}</p>
              {shown.warnings.length > 0 && (
                <ul class="warnings">
                  {shown.warnings.map(({ line: row, message, instead }) => (
                    <li key={`${row}${message}`}>
                      <b>{say(w.draw.row, { row })}</b>: {faultWords(message)} {faultWords(instead)}
                    </li>
                  ))}
                </ul>
              )}
              <Command text={shown.yaml} save="line.yaml" />
            </Card>
          )}
          <div class="acts steps-on">
            {next && (isDrawn || step.name !== "picture") && (
              <a class="btn first" href={`#draw/${next.name}`}>
                {say(w.draw.next, { step: w.draw.steps[next.name] })}
              </a>
            )}
            {!next && (
              <a class="btn first" href="/#">
                {w.frame.toLine}
              </a>
            )}
            {before && (
              <a class="btn" href={`#draw/${before.name}`}>
                {w.draw.back}
              </a>
            )}
          </div>
        </div>
      )}
      {/* A secret can't be taken back: nothing over its step says so. */}
      {step.name !== "nodes" && <UndoLast />}
    </PageFrame>
  );
}
