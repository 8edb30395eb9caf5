import type { DrumView } from "@drumlin/gateway/contract";
import { lost } from "../data/state.ts";
import { litresBefore, litresOf } from "../format/drum-facts.ts";
import { floatNames } from "../format/proof-words.ts";

/** The brim stands at this height, percent: an overfull drum still shows. */
const brim = 94;
/** Labels nearer than this, percent of the height, are moved apart. */
const labelApart = 9.5;

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
  const stop = floats.find(({ role }) => role === "stop");
  const nudge = (own: number) => {
    if (!stop || shown === null || Math.abs(own - height) >= labelApart) return own;
    return own >= height ? height + labelApart : own;
  };
  const words = [
    litres === null
      ? `${drum.title}: litres not known${before === null ? "" : `, was ${before.toFixed(0)}`}`
      : `${drum.title}: ${litres.toFixed(0)} of ${drum.capacity.toFixed(0)} litres`,
    ...floats.map(
      ({ role, state }) => `${floatNames[role].toLowerCase()} ${state === "unknown" ? "not heard" : state}`,
    ),
  ].join(", ");
  return (
    <div
      class={`vessel ${litres === null ? "unk" : held ? "hold" : ""} ${flood ? "flood" : ""}`}
      role="img"
      aria-label={words}
    >
      <span class="rim" />
      <div class="shell">
        {shown !== null && <div class="wtr" style={{ height: `${height}%` }} />}
        <Graduation />
      </div>
      {floats.map(({ role, state, tripsAt, at }) => (
        <span key={role}>
          <span class={`fl ${state === "unknown" ? "unk" : state}`} style={{ bottom: `${at}%` }}>
            <svg viewBox="0 0 20 20" aria-hidden="true">
              <path class="fx" d="M1 10h4" />
              <circle class="fb" cx="11" cy="10" r="5.5" />
            </svg>
          </span>
          <span class="lab" style={{ bottom: `${nudge(at)}%` }}>
            {role} {tripsAt.toFixed(0)}
          </span>
        </span>
      ))}
      {shown !== null && (
        <span class={litres === null ? "lab" : "lab lv"} style={{ bottom: `${height}%` }}>
          {litres === null ? `was ${shown.toFixed(0)}` : <b>{shown.toFixed(0)}</b>}
          {litres === null ? "" : " L"}
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
