import type { LineView, PointView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { setLimit } from "../data/lists.ts";
import { send } from "../data/send.ts";
import { lost } from "../data/state.ts";
import { doubtOfCalibration, doubtOfLimit } from "../format/doubts.ts";
import { asSet, figure, numberOf, whole } from "../format/numbers.ts";
import { fromShown, limitFigure, temperature, unitOf } from "../format/units.ts";
import { say, w } from "../words/words.ts";
import { Choices, Field } from "./field.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** Conductivity standards as they are sold, uS/cm at 25 °C; common practice, no source. */
const standards = [84, 147, 1413, 12_880] as const;

interface NumberFormProps {
  readonly label: string;
  readonly act: string;
  readonly done: string;
  /** Values to choose from. */
  readonly choices?: readonly number[];
  /** What the value would do, in words. */
  readonly effectOf: (value: number) => string;
  /** What speaks against the value; "" for nothing. It is then taken only when it is said again. */
  readonly doubtOf: (value: number) => string;
  readonly take: (value: number) => ReturnType<typeof send>;
}

/** One number, what it would do, and the act; a comma and a point are both taken. */
function NumberForm({ label, act, done, choices = [], effectOf, doubtOf, take }: NumberFormProps) {
  const acts = useActs();
  const [text, type] = useState("");
  const [doubted, doubt] = useState<number | null>(null);
  const value = numberOf(text);
  const good = value !== null && value > 0;
  async function submit(): Promise<void> {
    if (!good) return acts.say(w.point.above0);
    const against = doubtOf(value);
    if (against !== "" && doubted !== value) {
      doubt(value);
      return acts.say(say(w.point.pressAgain, { doubt: against }));
    }
    if (await acts.run(act, done, () => take(value))) type("");
    doubt(null);
  }
  return (
    <form
      class="form"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <Field label={label}>
        <input inputMode="decimal" value={text} onInput={({ currentTarget }) => type(currentTarget.value)} />
      </Field>
      {choices.length > 0 && (
        <Choices
          label={w.point.standards}
          choices={choices.map((choice) => ({ value: choice, words: asSet(choice) }))}
          chosen={value}
          choose={(choice) => type(String(choice))}
        />
      )}
      {good && <p class="effect">{effectOf(value)}</p>}
      <div ref={acts.host}>
        <button type="submit" class="btn" aria-disabled={lost.value || acts.busy !== ""}>
          {acts.busy === "" ? act : w.frame.saving}
        </button>
      </div>
      <ActAnswer acts={acts} />
    </form>
  );
}

/** The form that calibrates a probe in a standard; not while water runs past it. */
export function Calibration({ point, onTaken }: { readonly point: PointView; readonly onTaken: () => void }) {
  const { probe } = point;
  if (!probe || probe.said === null) return <p class="soft">{w.point.nothingFromProbe}</p>;
  if (point.run.flowing === true) return <p class="soft">{w.point.notWhileRuns}</p>;
  const said = probe.said;
  const reads = point.conductivity.value ?? said;
  const now = point.temperature.value;
  return (
    <>
      <p>
        {w.point.reads} <b>{figure(reads)} µS/cm</b>. {w.point.whichStandard}
      </p>
      <NumberForm
        label={
          now === null
            ? w.point.standardLabel
            : say(w.point.standardLabelAt, { temperature: temperature(now) })
        }
        act={w.point.calibrate}
        done={w.point.calibrated}
        choices={standards}
        effectOf={(value) =>
          say(w.point.corrects, {
            percent: percentWords(value / reads),
            before: figure(reads),
            after: figure(value),
          })
        }
        doubtOf={(value) => doubtOfCalibration(reads, value)}
        take={async (value) => {
          const sent = await send("/api/calibrations", {
            channel: probe.channel,
            points: [{ read: said, true: value }],
          });
          if (sent.taken) onTaken();
          return sent;
        }}
      />
    </>
  );
}

function percentWords(factor: number): string {
  const percent = (factor - 1) * 100;
  return `${percent < 0 ? "−" : "+"}${whole(Math.abs(percent), 1)}`;
}

/** The form that sets a point's limit; far from the usual it asks again. */
export function LimitForm({
  line,
  point,
  limit,
}: {
  readonly line: LineView;
  readonly point: PointView;
  readonly limit: number;
}) {
  const supply = line.points.find(({ id }) => !line.stages.some(({ to }) => to === id));
  const [before, remember] = useState<number | null>(null);
  const acts = useActs();
  return (
    <>
      <NumberForm
        label={
          unitOf("conductivity25") === "mg/L"
            ? w.point.newLimitSolids
            : say(w.point.newLimit, { unit: unitOf("conductivity25") })
        }
        act={w.frame.save}
        done={w.point.limitSaved}
        effectOf={(value) =>
          say(w.point.change, {
            before: limitFigure(limit, "uS/cm"),
            after: `${asSet(value)} ${unitOf("conductivity25")} ${w.point.at25}`,
          })
        }
        doubtOf={(value) =>
          doubtOfLimit(limit, fromShown("conductivity25", value), supply?.conductivity25.value ?? null)
        }
        take={async (value) => {
          const sent = await setLimit(point.id, fromShown("conductivity25", value));
          if (sent.taken) remember(limit);
          return sent;
        }}
      />
      {before !== null && before !== limit && (
        <div class="acts" ref={acts.host}>
          <ActButton
            acts={acts}
            name={say(w.point.undoTo, { value: limitFigure(before, "uS/cm") })}
            subject={point.title}
            done={say(w.point.againIs, { value: limitFigure(before, "uS/cm") })}
            send={() => setLimit(point.id, before)}
          />
          <ActAnswer acts={acts} />
        </div>
      )}
    </>
  );
}
