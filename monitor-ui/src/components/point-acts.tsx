import type { LineView, PointView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { setLimit } from "../data/lists.ts";
import { send } from "../data/send.ts";
import { lost } from "../data/state.ts";
import { doubtOfCalibration, doubtOfLimit } from "../format/doubts.ts";
import { figure, numberOf } from "../format/numbers.ts";
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
    if (!good) return acts.say("Enter a number above 0.");
    const against = doubtOf(value);
    if (against !== "" && doubted !== value) {
      doubt(value);
      return acts.say(`${against} Press again to save it anyway.`);
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
          label="Standards as they are sold"
          choices={choices.map((choice) => ({ value: choice, words: String(choice) }))}
          chosen={value}
          choose={(choice) => type(String(choice))}
        />
      )}
      {good && <p class="effect">{effectOf(value)}</p>}
      <div ref={acts.host}>
        <button type="submit" class="btn" aria-disabled={lost.value || acts.busy !== ""}>
          {acts.busy === "" ? act : "Saving…"}
        </button>
      </div>
      <ActAnswer acts={acts} />
    </form>
  );
}

/** The form that calibrates a probe in a standard; not while water runs past it. */
export function Calibration({ point, onTaken }: { readonly point: PointView; readonly onTaken: () => void }) {
  const { probe } = point;
  if (!probe || probe.said === null) return <p class="soft">Nothing heard from the probe yet.</p>;
  if (point.run.flowing === true) return <p class="soft">Not while water runs here. Stop the fill first.</p>;
  const said = probe.said;
  const reads = point.conductivity.value ?? said;
  const at = point.temperature.value === null ? "" : `, now ${point.temperature.value.toFixed(1)} °C`;
  return (
    <>
      <p>
        The probe reads <b>{figure(reads)} µS/cm</b>. Which standard is it in?
      </p>
      <NumberForm
        label={`True conductivity of the standard at its temperature${at}, µS/cm`}
        act="Calibrate"
        done="Calibrated."
        choices={standards}
        effectOf={(value) =>
          `This corrects the probe by ${percentWords(value / reads)}: ${figure(reads)} → ${figure(value)} µS/cm. ` +
          "The numbers of the standards hold at 25 °C; at another temperature, write what the bottle's table says."
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
  return `${percent < 0 ? "−" : "+"}${Math.abs(percent).toFixed(1)} %`;
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
        label="New limit, µS/cm at 25 °C"
        act="Save"
        done="Limit saved."
        effectOf={(value) => `${limit} → ${value} µS/cm at 25 °C`}
        doubtOf={(value) => doubtOfLimit(limit, value, supply?.conductivity25.value ?? null)}
        take={async (value) => {
          const sent = await setLimit(point.id, value);
          if (sent.taken) remember(limit);
          return sent;
        }}
      />
      {before !== null && before !== limit && (
        <div class="acts" ref={acts.host}>
          <ActButton
            acts={acts}
            name={`Undo: back to ${before}`}
            subject={point.title}
            done={`The limit is ${before} again.`}
            send={() => setLimit(point.id, before)}
          />
          <ActAnswer acts={acts} />
        </div>
      )}
    </>
  );
}
