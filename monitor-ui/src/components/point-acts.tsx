import type { PointView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { setLimit } from "../data/lists.ts";
import { send } from "../data/send.ts";
import { line, lost } from "../data/state.ts";
import { doubtOfCalibration, doubtOfLimit } from "../format/doubts.ts";
import { figure, numberOf } from "../format/numbers.ts";
import { ActAnswer, useActs } from "./use-acts.tsx";

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
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <label>
        {label}
        <input inputMode="decimal" value={text} onInput={({ currentTarget }) => type(currentTarget.value)} />
      </label>
      {choices.length > 0 && (
        <span class="chips">
          {choices.map((choice) => (
            <button
              type="button"
              class="chip"
              key={choice}
              aria-pressed={value === choice}
              onClick={() => type(String(choice))}
            >
              {choice}
            </button>
          ))}
        </span>
      )}
      {good && <p class="effect n">{effectOf(value)}</p>}
      <div ref={acts.host}>
        <button type="submit" aria-disabled={lost.value || acts.busy !== ""}>
          {acts.busy === "" ? act : "Saving…"}
        </button>
      </div>
      <ActAnswer acts={acts} />
    </form>
  );
}

function Calibration({ point }: { readonly point: PointView }) {
  const { probe } = point;
  if (!probe || probe.said === null) return <p class="u">Calibration: nothing heard from the probe yet.</p>;
  if (point.run.flowing === true)
    return <p class="u">Calibration: not while water runs here. Stop the fill first.</p>;
  const said = probe.said;
  const reads = point.conductivity.value ?? said;
  const at = point.temperature.value === null ? "" : `, now ${point.temperature.value.toFixed(1)} °C`;
  return (
    <NumberForm
      label={`True conductivity of the standard at its temperature${at}, µS/cm`}
      act="Calibrate"
      done="Calibrated."
      choices={standards}
      effectOf={(value) =>
        `${figure(reads)} → ${figure(value)} µS/cm, a factor of ${(value / reads).toFixed(3)}. ` +
        "The numbers of the standards hold at 25 °C; at another temperature, write what the bottle's table says. " +
        "To go back, calibrate again."
      }
      doubtOf={(value) => doubtOfCalibration(reads, value)}
      take={(value) =>
        send("/api/calibrations", { channel: probe.channel, points: [{ read: said, true: value }] })
      }
    />
  );
}

/** What a person does at a point: calibrate its probe in a standard, change its limit. */
export function PointActs({ point }: { readonly point: PointView }) {
  const { probe, limit } = point;
  if (!probe) return null;
  const supply = line.value?.points.find(({ id }) => !line.value?.stages.some(({ to }) => to === id));
  return (
    <details class="point-acts">
      <summary>
        Calibrate, limit<span class="hidden">: {point.title}</span>
      </summary>
      <Calibration point={point} />
      {limit !== null && (
        <NumberForm
          label={`Limit at 25 °C, µS/cm (now ${limit})`}
          act="Set the limit"
          done="Limit saved."
          effectOf={(value) => `${limit} → ${value} µS/cm at 25 °C`}
          doubtOf={(value) => doubtOfLimit(limit, value, supply?.conductivity25.value ?? null)}
          take={(value) => setLimit(point.id, value)}
        />
      )}
    </details>
  );
}
