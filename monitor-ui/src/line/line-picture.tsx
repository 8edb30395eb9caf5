import type { DrumView, LineView } from "@drumlin/gateway/contract";
import type { ComponentChildren } from "preact";
import { DrumCard } from "../components/drum-card.tsx";
import { isSilent } from "../data/alarm-state.ts";
import { alarms, lost } from "../data/state.ts";
import { w } from "../words/words.ts";
import {
  apartWidths,
  areMany,
  areTight,
  type Column,
  firstDrumOf,
  isMirrored,
  manyDrums,
  pictureOf,
  runsAt,
  widths,
} from "./picture.ts";
import { PointCell } from "./point-cell.tsx";
import { StageCell } from "./stage-cell.tsx";

const columns = (parts: readonly number[]) =>
  parts.map((part) => `minmax(0, ${part.toFixed(2)}fr)`).join(" ");

const keyOf = (column: Column) =>
  column.kind === "branch" ? column.drum.id : column.kind === "point" ? column.point.id : column.stage.id;

interface PipeProps {
  readonly line: LineView;
  readonly pipe: readonly Column[];
  /** Drums hang from this pipe's points. */
  readonly hung: boolean;
}

/** One pipe: its points and housings in the order of the water. */
function Pipe({ line, pipe, hung }: PipeProps) {
  const last = pipe.length - 1;
  const end = pipe.findLastIndex(({ kind }) => kind !== "branch");
  return (
    <ol class="cells">
      {pipe.map((column, at) => {
        const runs = !lost.value && runsAt(line, pipe, at);
        if (column.kind === "stage")
          return <StageCell key={column.stage.id} line={line} stage={column.stage} runs={runs} />;
        const drum = column.kind === "branch" ? column.drum : firstDrumOf(line, column.point.id);
        const isTee = drum !== null && at < last;
        const onlyHere = isTee && runs && !runsAt(line, pipe, at + 1);
        const place = [
          at === 0 ? "from" : "",
          isTee ? "tee" : "",
          onlyHere ? "upto" : "",
          at === last && at > 0 ? "to" : "",
          at === end && at > 0 ? "end" : "",
        ];
        if (column.kind === "branch")
          return <Branch key={column.drum.id} drum={column.drum} place={place.join(" ")} runs={runs} />;
        return (
          <PointCell
            key={column.point.id}
            line={line}
            point={column.point}
            place={place.filter(Boolean).join(" ")}
            runs={runs}
            drum={hung ? drum : null}
          />
        );
      })}
    </ol>
  );
}

interface BranchProps {
  readonly drum: DrumView;
  /** Where it stands on its pipe, for the pipe's ends. */
  readonly place: string;
  readonly runs: boolean;
}

/** The tee of another drum at the point before: a piece of pipe, and what hangs under it. */
function Branch({ drum, place, runs }: BranchProps) {
  const fills = drum.filling === true && !lost.value;
  return (
    <li class={`cell branch ${place} ${runs ? "run" : ""}`}>
      <span class="vh">→ {drum.title}</span>
      <span class={fills ? "drop run" : "drop"} />
    </li>
  );
}

/** What a narrow page leaves out: its drums come before, the worst first. */
function worstFirst(drums: readonly DrumView[]): DrumView[] {
  const order = { hold: 0, unknown: 1, use: 2 } as const;
  return [...drums].sort((a, b) => order[a.water.verdict] - order[b.water.verdict]);
}

/** A pipe of its own with more columns than these has narrow ones on a tablet. */
const maxWide = 7;
/** So many pieces of pipe move while water runs; more would keep a phone busy. */
const maxMoving = 16;

interface LinePictureProps {
  readonly line: LineView;
  /** Stands left of the drums where there is room, else under them. */
  readonly notes?: ComponentChildren;
}

/** The line from supply to drums: drawn from tablet width up, drums and rows on a phone. */
export function LinePicture({ line, notes }: LinePictureProps) {
  const { pipes, hung } = pictureOf(line);
  const [only] = pipes;
  if (hung && only) {
    const start = hung[0]?.from ?? only.length;
    const kinds = [
      "line",
      start < 2 || areMany(hung) ? "low" : "",
      ...(areMany(hung) ? ["many", "compact"] : []),
      areTight(only, hung) ? "tight" : "",
      alarms.value.some((alarm) => !isSilent(alarm)) ? "terse" : "",
    ];
    return (
      <section
        class={kinds.filter(Boolean).join(" ")}
        aria-label={w.lineWords.drawing}
        style={{
          "--wide": columns(widths(only, hung, "wide")),
          "--tablet": columns(widths(only, hung, "tablet")),
          "--start": String(start + 1),
        }}
      >
        {hung.map(({ drum, from, to }, at) => (
          <DrumCard
            key={drum.id}
            drum={drum}
            mirrored={isMirrored(hung, at)}
            style={{ "--from": String(from + 1), "--to": String(to + 1) }}
          />
        ))}
        <Pipe line={line} pipe={only} hung />
        {notes && <div class="notes">{notes}</div>}
      </section>
    );
  }
  const isLarge = pipes.flat().length > maxMoving;
  return (
    <section class={isLarge ? "line-apart still" : "line-apart"} aria-label={w.lineWords.drawing}>
      <div class={line.drums.length >= manyDrums ? "drums compact" : "drums"}>
        {worstFirst(line.drums).map((drum) => (
          <DrumCard key={drum.id} drum={drum} />
        ))}
      </div>
      {pipes.map((pipe) => (
        <div class="pipe-box" key={pipe.map(keyOf).join()}>
          <div
            class={pipe.length > maxWide ? "line tight" : "line"}
            style={{ "--wide": columns(apartWidths(pipe)), "--count": String(pipe.length) }}
          >
            <Pipe line={line} pipe={pipe} hung={false} />
          </div>
        </div>
      ))}
      {notes && <div class="notes">{notes}</div>}
    </section>
  );
}
