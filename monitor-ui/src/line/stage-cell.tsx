import type { LineView, StageView } from "@drumlin/gateway/contract";
import { isStanding } from "../data/alarm-state.ts";
import { alarms, lost } from "../data/state.ts";
import { percent } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";

interface StageCellProps {
  readonly line: LineView;
  readonly stage: StageView;
  readonly runs: boolean;
}

/** Alarms of what lets through what it should hold back. */
const passing = new Set(["resin-breakthrough", "membrane-passing"]);

/** A filter housing on the pipe; crossed where what it holds lets through what it should keep. */
export function StageCell({ line, stage, runs }: StageCellProps) {
  const alarm = alarms.value.find(
    ({ condition, subject, state }) => passing.has(condition) && subject === stage.to && isStanding(state),
  );
  const out = line.points.find(({ id }) => id === stage.to);
  const removes =
    stage.removal !== null &&
    out?.run.flowing === true &&
    !lost.value &&
    (stage.kind === "resin" || stage.kind === "membrane")
      ? say(w.lineWords.removes, { percent: percent(stage.removal, 1) })
      : "";
  return (
    <li class={`cell stage ${runs ? "run" : ""} ${alarm?.attention ?? ""}`}>
      <div class="head">
        <h3 class="name">{stage.title}</h3>
        <div class="aux">
          {stage.cameBack ? (
            <b class="spent">{w.lineWords.cameBack}</b>
          ) : alarm ? (
            <b class="spent">{w.lineWords.letsThrough}</b>
          ) : (
            removes
          )}
        </div>
      </div>
      <Housing kind={stage.kind} crossed={alarm !== undefined || stage.cameBack !== undefined} />
    </li>
  );
}

/** What lies in a bowl, by its kind: pleats, a block with its core, beads. It says nothing of what is left. */
const fillings: Readonly<Record<string, string>> = {
  sediment: "M15 36v66M20 36v74M26 36v74M32 36v74M37 36v66",
  carbon: "M16 36h20v66H16ZM23 36v66M29 36v66",
  resin:
    "M16 52h.1M22 52h.1M28 52h.1M34 52h.1M19 60h.1M25 60h.1M31 60h.1M16 68h.1M22 68h.1M28 68h.1M34 68h.1M19 76h.1M25 76h.1M31 76h.1M16 84h.1M22 84h.1M28 84h.1M34 84h.1M19 92h.1M25 92h.1M31 92h.1M19 100h.1M25 100h.1M31 100h.1M25 108h.1",
};

/** What the water passes through: a bowl under its head, or a membrane's tube. */
function Housing({ kind, crossed }: { readonly kind: string; readonly crossed: boolean }) {
  return (
    <svg class="housing" viewBox="0 0 52 122" aria-hidden="true">
      {kind === "membrane" ? (
        <>
          <path class="o" d="M3 8h46v40H3Z" />
          <path class="mem" d="M3 48 49 8" />
        </>
      ) : (
        <>
          <path class="o" d="M10 28h32v78a14 14 0 0 1-14 12h-4a14 14 0 0 1-14-12Z" />
          <path class="hd" d="M3 8h46v20H3Z" />
          {kind in fillings && <path class="media" d={fillings[kind]} />}
        </>
      )}
      {crossed && <path class="sp" d="M17 52l18 40M35 52 17 92" />}
    </svg>
  );
}
