import type { LineDrawing } from "@drumlin/gateway/contract";
import { useEffect, useRef, useState } from "preact/hooks";
import { Choices, Field } from "../components/field.tsx";
import { ActAnswer, ActButton, useActs } from "../components/use-acts.tsx";
import { change } from "../data/drawing.ts";
import { numberOf } from "../format/numbers.ts";
import { language, say, w } from "../words/words.ts";
import { Drawing } from "./drawing.tsx";
import { Form, litresOf, Name, TakeOut, titled } from "./part-form.tsx";
import { addedDrum, addedStage, type Edit, isSame, type Part, rowsOf } from "./rows.ts";
import { disinfectants, stageKinds } from "./words.ts";

/** The drawing is the form: a part is tapped, and named beside it. */
export function PartStep({ drawing }: { readonly drawing: LineDrawing }) {
  const rows = rowsOf(drawing);
  const [wanted, choose] = useState<Part | null>(null);
  const beside = useRef<HTMLDivElement>(null);
  const chosen = rows.find((row) => isSame(row, wanted)) ?? null;
  useEffect(() => {
    if (wanted) beside.current?.scrollIntoView({ block: "nearest" });
  }, [wanted]);
  return (
    <>
      <h2>{w.draw.nameTap}</h2>
      <div class="cols c2">
        <Drawing drawing={drawing} chosen={chosen} onPart={choose} />
        <div class="sheet" ref={beside}>
          {chosen ? (
            <PartForm
              key={`${chosen.kind} ${chosen.id}`}
              drawing={drawing}
              part={chosen}
              title={chosen.title}
            />
          ) : (
            <SiteForm drawing={drawing} />
          )}
        </div>
      </div>
    </>
  );
}

/** The house's name, and what the water works put in. */
function SiteForm({ drawing }: { readonly drawing: LineDrawing }) {
  const acts = useActs();
  const [title, type] = useState(drawing.title);
  const [disinfectant, choose] = useState(drawing.disinfectant);
  return (
    <Form
      acts={acts}
      subject={w.draw.house}
      edits={() => [
        ...titled([], drawing.title, title),
        ...(disinfectant === drawing.disinfectant
          ? []
          : [{ at: ["supply", "disinfectant"], to: disinfectant }]),
      ]}
    >
      <h3>{w.draw.theHouse}</h3>
      <Name label={w.draw.houseName} text={title} type={type} />
      <div class="field">
        <span>{w.draw.disinfectant}</span>
        <Choices
          label={w.draw.disinfectant}
          choices={disinfectants()}
          chosen={disinfectant}
          choose={choose}
        />
        <small>{w.draw.disinfectantHint}</small>
      </div>
      <p class="soft sm">{w.draw.tapPart}</p>
    </Form>
  );
}

function PartForm({ drawing, part, title }: { drawing: LineDrawing; part: Part; title: string }) {
  if (part.kind === "point") return <PointForm drawing={drawing} id={part.id} title={title} />;
  if (part.kind === "stage") return <StageForm drawing={drawing} id={part.id} />;
  return <DrumForm drawing={drawing} id={part.id} />;
}

/** Where a point's limit stands in the file: it belongs to what is said of resin, or of a membrane. */
function limitPlace({ stages }: LineDrawing, point: string): readonly string[] {
  const kinds = stages.flatMap(({ to, kind }) => (to === point ? [kind] : []));
  if (kinds.includes("resin")) return ["limits", `resin-breakthrough:${point}`, "limit"];
  if (kinds.includes("membrane")) return ["limits", `membrane-passing:${point}`, "limit"];
  return ["points", point, "limit"];
}

function PointForm({ drawing, id, title }: { drawing: LineDrawing; id: string; title: string }) {
  const acts = useActs();
  const more = useActs();
  const [name, type] = useState(title);
  const limit = drawing.points.find((point) => point.id === id)?.limit ?? null;
  const [text, setLimit] = useState(limit === null ? "" : String(limit));
  return (
    <>
      <Form
        acts={acts}
        subject={title}
        edits={() => {
          const value = numberOf(text);
          if (limit !== null && (value === null || value <= 0)) return w.draw.limitProblem;
          return [
            ...titled(["points", id], title, name),
            ...(limit === null || value === limit || value === null
              ? []
              : [{ at: limitPlace(drawing, id), to: value }]),
          ];
        }}
      >
        <h3>{title}</h3>
        <Name label={w.draw.name} text={name} type={type} />
        {limit === null ? (
          <p class="soft sm">{w.draw.noLimit}</p>
        ) : (
          <Field label={w.draw.limitLabel} hint={w.draw.whyLimit}>
            <input
              inputMode="decimal"
              value={text}
              onInput={({ currentTarget }) => setLimit(currentTarget.value)}
            />
          </Field>
        )}
      </Form>
      <h3>{w.draw.behind}</h3>
      <div class="acts" ref={more.host}>
        <ActButton
          acts={more}
          name={w.draw.addDrum}
          subject={title}
          done={w.draw.added}
          send={() => change(say(w.draw.drumAdded, { title }), addedDrum(drawing, id))}
        />
        {stageKinds().map(({ value, words }) => (
          <ActButton
            key={value}
            acts={more}
            name={say(w.draw.add, { what: language.value === "en" ? words.toLowerCase() : words })}
            subject={title}
            done={w.draw.added}
            send={() =>
              change(say(w.draw.stageAdded, { what: words, title }), addedStage(drawing, id, value))
            }
          />
        ))}
      </div>
      <ActAnswer acts={more} />
    </>
  );
}

function StageForm({ drawing, id }: { drawing: LineDrawing; id: string }) {
  const acts = useActs();
  const stage = drawing.stages.find((one) => one.id === id);
  const [name, type] = useState(stage?.title ?? "");
  const [kind, choose] = useState(stage?.kind ?? "other");
  const [text, setVessel] = useState(stage ? String(stage.vessel) : "");
  if (!stage) return null;
  return (
    <>
      <Form
        acts={acts}
        subject={stage.title}
        edits={() => {
          const vessel = litresOf(text);
          if (kind === "resin" && vessel === null) return w.draw.vesselProblem;
          return [
            ...titled(["stages", id], stage.title, name),
            ...(kind === stage.kind ? [] : [{ at: ["stages", id, "kind"], to: kind }]),
            ...(kind !== "resin" || vessel === null || vessel === `${stage.vessel} L`
              ? []
              : [{ at: ["stages", id, "vessel"], to: vessel }]),
          ];
        }}
      >
        <h3>{stage.title}</h3>
        <Name label={w.draw.name} text={name} type={type} />
        <div class="field">
          <span>{w.draw.itIs}</span>
          <Choices label={w.draw.itIs} choices={stageKinds()} chosen={kind} choose={choose} />
        </div>
        {kind === "resin" && (
          <Field label={w.draw.vesselHolds} hint={w.draw.whyVessel}>
            <input
              inputMode="decimal"
              value={text}
              onInput={({ currentTarget }) => setVessel(currentTarget.value)}
            />
          </Field>
        )}
      </Form>
      <TakeOut drawing={drawing} part={{ kind: "stage", id }} title={stage.title} />
    </>
  );
}

const ways = () => (["automatic", "manual"] as const).map((value) => ({ value, words: w.draw.ways[value] }));
const held = () =>
  [
    { value: "fresh", words: w.draw.no },
    { value: "salt", words: w.draw.yes },
  ] as const;

function DrumForm({ drawing, id }: { drawing: LineDrawing; id: string }) {
  const acts = useActs();
  const drum = drawing.drums.find((one) => one.id === id);
  const [name, type] = useState(drum?.title ?? "");
  const [text, setVolume] = useState(drum ? String(drum.volume) : "");
  const [control, setControl] = useState(drum?.control ?? "automatic");
  const [holds, setHolds] = useState(drum?.holds ?? "fresh");
  const [fedBy, setFed] = useState(drum?.fedBy ?? "");
  if (!drum) return null;
  return (
    <>
      <Form
        acts={acts}
        subject={drum.title}
        edits={() => {
          const volume = litresOf(text);
          if (volume === null) return w.draw.volumeProblem;
          const set = (key: string, before: string, to: string): Edit[] =>
            before === to ? [] : [{ at: ["drums", id, key], to }];
          return [
            ...titled(["drums", id], drum.title, name),
            ...set("volume", `${drum.volume} L`, volume),
            ...set("control", drum.control, control),
            ...set("holds", drum.holds, holds),
            ...set("fed_by", drum.fedBy, fedBy),
          ];
        }}
      >
        <h3>{drum.title}</h3>
        <Name label={w.draw.name} text={name} type={type} />
        <Field label={w.draw.holds} hint={w.draw.whyVolume}>
          <input value={text} onInput={({ currentTarget }) => setVolume(currentTarget.value)} />
        </Field>
        <div class="field">
          <span>{w.draw.filledLabel}</span>
          <Choices
            label={w.draw.filledLabel}
            as="segments"
            choices={ways()}
            chosen={control}
            choose={setControl}
          />
          <small>{w.draw.filledHint}</small>
        </div>
        <div class="field">
          <span>{w.draw.saltMixed}</span>
          <Choices label={w.draw.saltMixed} as="segments" choices={held()} chosen={holds} choose={setHolds} />
        </div>
        <Field label={w.draw.waterAt}>
          <select value={fedBy} onChange={({ currentTarget }) => setFed(currentTarget.value)}>
            {drawing.points.map((point) => (
              <option key={point.id} value={point.id}>
                {point.title}
              </option>
            ))}
          </select>
        </Field>
      </Form>
      <TakeOut drawing={drawing} part={{ kind: "drum", id }} title={drum.title} />
    </>
  );
}
