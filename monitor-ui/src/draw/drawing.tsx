import type { LineDrawing } from "@drumlin/gateway/contract";
import { channelNamed, channelWords } from "../format/channel-words.ts";
import { asSet } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { goesOn, isSame, type Part, type Row, rowsOf } from "./rows.ts";
import { isUsual, roleWords } from "./words.ts";

type Place = LineDrawing["places"][number];

/** What a part looks like on the pipe. */
function PartSign({ kind }: { readonly kind: string }) {
  return (
    <svg class="place" viewBox="0 0 36 44" aria-hidden="true">
      {kind === "point" && <circle class="b" cx="18" cy="22" r="8" />}
      {kind === "drum" && (
        <>
          <path class="p" d="M0 8h18v8" />
          <path class="dr" d="M6 26h24v14H6z" />
          <path class="p thin" d="M6 16v24h24V16" />
        </>
      )}
      {kind === "membrane" && <path class="b" d="M5 9h26v26H5ZM5 35 31 9" />}
      {["sediment", "carbon", "resin", "other"].includes(kind) && (
        <path class="b" d="M7 8h22v8H7ZM10 16h16v14a7 7 0 0 1-7 7h-2a7 7 0 0 1-7-7Z" />
      )}
    </svg>
  );
}

interface DrawingProps {
  readonly drawing: LineDrawing;
  readonly chosen?: Part | null;
  readonly onPart?: (part: Part) => void;
  /** Places that take what is held in the hand; null: nothing is. Left out: no places are drawn. */
  readonly fits?: readonly string[] | null;
  readonly onPlace?: (place: Place) => void;
}

/** The line from the supply down. Parts, and places of channels, are buttons: by thumb and by keyboard. */
export function Drawing({ drawing, chosen = null, onPart, fits, onPlace }: DrawingProps) {
  const kindOf = ({ kind, id }: Part) =>
    kind === "stage" ? (drawing.stages.find((stage) => stage.id === id)?.kind ?? "other") : kind;
  const ends = ({ kind, id }: Part) =>
    kind === "point" &&
    !drawing.stages.some(({ from }) => from === id) &&
    !drawing.drums.some(({ fedBy }) => fedBy === id);
  const rows = rowsOf(drawing);
  const floors = drawing.places.filter(({ of }) => of.kind === "floor");
  const slots = (title: string, own: readonly Place[]) =>
    fits !== undefined && onPlace && <Slots title={title} places={own} fits={fits} onPlace={onPlace} />;
  return (
    <ol class="drawn" aria-label={w.draw.down}>
      {rows.map((row, at) => (
        <li
          key={`${row.kind} ${row.id}`}
          class={row.kind === "drum" ? (goesOn(rows, at) ? "hangs on" : "hangs") : ""}
          style={{ "--depth": String(row.depth) }}
        >
          <div class={`sign of-${row.kind} ${ends(row) ? "last" : ""}`}>
            <PartSign kind={kindOf(row)} />
          </div>
          <div>
            <PartName row={row} says={saysOf(drawing, row)} chosen={isSame(chosen, row)} onPart={onPart} />
            {slots(
              row.title,
              drawing.places.filter(({ of }) => of.kind === row.kind && of.id === row.id),
            )}
          </div>
        </li>
      ))}
      {fits !== undefined && (
        <li style={{ "--depth": "0" }}>
          <div class="sign of-floor" />
          <div>
            <b class="part">{w.draw.floor}</b>
            {slots(w.draw.floor, floors)}
          </div>
        </li>
      )}
    </ol>
  );
}

function PartName(props: {
  readonly row: Row;
  readonly says: string;
  readonly chosen: boolean;
  readonly onPart: ((part: Part) => void) | undefined;
}) {
  const { row, says, chosen, onPart } = props;
  const words = (
    <>
      <b>{row.title}</b> {says !== "" && <span class="soft sm">{says}</span>}
    </>
  );
  if (!onPart) return <p class="part">{words}</p>;
  return (
    <button type="button" class="part" aria-pressed={chosen} onClick={() => onPart(row)}>
      {words}
    </button>
  );
}

/** What is set of a part, short. */
function saysOf(drawing: LineDrawing, { kind, id }: Part): string {
  if (kind === "drum") {
    const drum = drawing.drums.find((one) => one.id === id);
    if (!drum) return "";
    const salt = drum.holds === "salt" ? ` · ${w.draw.saltHere}` : "";
    return `${asSet(drum.volume)} L · ${w.draw.filled[drum.control]}${salt}`;
  }
  if (kind === "stage") {
    const stage = drawing.stages.find((one) => one.id === id);
    return stage?.kind === "resin"
      ? say(stage.typical ? w.draw.vesselGuessed : w.draw.vessel, { litres: asSet(stage.vessel) })
      : "";
  }
  const limit = drawing.points.find((one) => one.id === id)?.limit ?? null;
  return limit === null ? "" : say(w.draw.limit, { value: asSet(limit) });
}

/** Places of one part: with something in the hand those that take it, else what is there and what most lines have. */
function Slots(props: {
  /** The part's name: every point has a place for conductivity. */
  readonly title: string;
  readonly places: readonly Place[];
  readonly fits: readonly string[] | null;
  readonly onPlace: (place: Place) => void;
}) {
  const { title, places, fits, onPlace } = props;
  const shown = places.filter(({ place, channel, role, of }) =>
    fits ? fits.includes(place) : channel !== null || isUsual(of.kind, role),
  );
  if (shown.length === 0) return null;
  return (
    <ul class="slots">
      {shown.map((one) => (
        <li key={one.place}>
          <button
            type="button"
            class={`slot ${one.channel === null ? "free" : "taken"} ${fits ? "pick" : ""}`}
            disabled={!fits && one.channel === null}
            onClick={() => onPlace(one)}
          >
            {roleWords(one.role)}
            {one.channel !== null && <span class="soft">{one.channel}</span>}
            {one.channel !== null && !fits && <span>{channelWords(channelNamed(one.channel))}</span>}
            <span class="vh">: {title}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
