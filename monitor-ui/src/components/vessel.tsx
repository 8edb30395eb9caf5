import type { DrumView } from "@drumlin/gateway/contract";
import { lost } from "../data/state.ts";
import { litresBefore, litresOf } from "../format/drum-facts.ts";
import { unitOf, volume, volumeFigure } from "../format/units.ts";
import { spreadLabels } from "../line/labels.ts";
import { say, w } from "../words/words.ts";
import { DrumName } from "./drum-name.tsx";

/** The brim stands at this height, percent: an overfull drum still shows. */
const brim = 94;
/** Labels nearer than this, percent of the height, are moved apart: the litres are set large. */
const labelApart = 12;

function heightOf(litres: number, capacity: number): number {
  return Math.min(100, Math.max(0, (litres / capacity) * brim));
}

/** A graduated vessel: water as high as it stands, floats where they trip; dashed and hatched where nothing tells. */
export function Vessel({
  drum,
  held,
  flood,
}: {
  readonly drum: DrumView;
  readonly held: boolean;
  readonly flood?: boolean;
}) {
  const litres = litresOf(drum);
  const before = litresBefore(drum);
  const shown = litres ?? before;
  const height = shown === null ? 0 : heightOf(shown, drum.capacity);
  const floats = drum.floats.flatMap(({ role, state, tripsAt }) =>
    tripsAt === null
      ? []
      : [{ role, state: lost.value ? "unknown" : state, tripsAt, at: heightOf(tripsAt, drum.capacity) }],
  );
  const places = spreadLabels(
    [{ at: height, fixed: true }, ...floats.map(({ at }) => ({ at }))].slice(shown === null ? 1 : 0),
    labelApart,
  ).slice(shown === null ? 0 : 1);
  const words = [
    litres === null
      ? say(before === null ? w.drum.vesselUnknown : w.drum.vesselWas, {
          title: drum.title,
          volume: before === null ? "" : volume(before),
        })
      : say(w.drum.vesselKnown, {
          title: drum.title,
          volume: volumeFigure(litres),
          capacity: volume(drum.capacity),
        }),
    ...floats.map(
      ({ role, state }) => `${w.floatRoles[role]} ${w.drum.states[state as "wet" | "dry" | "unknown"]}`,
    ),
  ].join(", ");
  return (
    <div
      class={`vessel ${litres === null ? "unk" : held ? "hold" : ""} ${flood ? "flood" : ""}`}
      role="img"
      aria-label={words}
    >
      <span class="vname">
        <DrumName title={drum.title} />
      </span>
      <span class="rim" />
      <div class="shell">
        {shown !== null && <div class="wtr" style={{ height: `${height}%` }} />}
        <Graduation />
      </div>
      {floats.map(({ role, state, tripsAt, at }, place) => (
        <span key={role}>
          <span class={`fl ${state === "unknown" ? "unk" : state}`} style={{ bottom: `${at}%` }}>
            <svg viewBox="0 0 20 20" aria-hidden="true">
              <path class="fx" d="M1 10h4" />
              <circle class="fb" cx="11" cy="10" r="5.5" />
            </svg>
          </span>
          <span class="lab" style={{ bottom: `${places[place]}%` }}>
            {w.drum.roles[role]} {volumeFigure(tripsAt)}
          </span>
        </span>
      ))}
      {shown !== null && (
        <span class={litres === null ? "lab" : "lab lv"} style={{ bottom: `${height}%` }}>
          {litres === null ? say(w.drum.was, { volume: volumeFigure(shown) }) : <b>{volumeFigure(shown)}</b>}
          {litres === null ? "" : ` ${unitOf("volume")}`}
        </span>
      )}
    </div>
  );
}

/** Marks each twentieth of the drum, every fifth longer. */
function Graduation() {
  return (
    <>
      {Array.from({ length: 20 }, (_, at) => at + 1).map((mark) => (
        <i
          key={mark}
          class={mark % 5 === 0 ? "grad m" : "grad"}
          style={{ bottom: `${(mark / 20) * brim}%` }}
        />
      ))}
    </>
  );
}
