import type { PointView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { change, setLimit } from "../data/lists.ts";
import { figure, numberOf } from "../format/numbers.ts";

/** One number and what to do with it; a comma and a point are both taken. */
function NumberForm({
  label,
  act,
  send,
}: {
  readonly label: string;
  readonly act: string;
  readonly send: (value: number) => Promise<boolean>;
}) {
  const [text, type] = useState("");
  const [done, tell] = useState("");
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        const value = numberOf(text);
        if (value === null || value <= 0) {
          tell("Write a number over 0.");
          return;
        }
        void send(value).then((taken) => {
          tell(taken ? "Taken." : "Not taken.");
          if (taken) type("");
        });
      }}
    >
      <label>
        {label}
        <input inputMode="decimal" value={text} onInput={({ currentTarget }) => type(currentTarget.value)} />
      </label>
      <button type="submit">{act}</button>
      <span role="status">{done}</span>
    </form>
  );
}

/** What a person does at a point: calibrate its probe in a standard, change its limit. */
export function PointActs({ point }: { readonly point: PointView }) {
  const { probe } = point;
  if (!probe) return null;
  return (
    <details class="point-acts">
      <summary>Calibrate, limit</summary>
      <NumberForm
        label={`True conductivity of the standard at its temperature, µS/cm (the probe says ${probe.said === null ? "nothing" : figure(probe.said)})`}
        act="Calibrate"
        send={async (value) =>
          probe.said !== null &&
          change("/api/calibrations", {
            channel: probe.channel,
            points: [{ read: probe.said, true: value }],
          })
        }
      />
      {point.limit !== null && (
        <NumberForm
          label={`Limit at 25 °C, µS/cm (now ${point.limit})`}
          act="Set the limit"
          send={(value) => setLimit(point.id, value)}
        />
      )}
    </details>
  );
}
