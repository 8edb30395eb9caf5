import type { PointView } from "@drumlin/gateway/contract";
import { useAsked } from "../data/asked.ts";
import { mayAct } from "../data/me.ts";
import { send } from "../data/send.ts";
import { gatewayNowMs } from "../data/state.ts";
import { byWords } from "../format/by-words.ts";
import { clock, figure, whole } from "../format/numbers.ts";
import { w } from "../words/words.ts";
import { CouldNotLoad } from "./could-not-load.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

interface Entered {
  readonly channel: string;
  readonly at?: string;
  readonly validFrom?: string;
  readonly by: string;
  readonly note?: string;
  readonly points: readonly { readonly read: number; readonly true: number }[];
}

/** The note of a calibration that takes one back, as it is kept. */
const takenBack = "taken back";

/** What a calibration did, in words: "+1.9 %", "2 points". */
function effectOf({ points }: Entered): string {
  const [only, second] = points;
  if (second || !only) return w.point.twoPoints;
  const percent = (only.true / only.read - 1) * 100;
  if (Math.abs(percent) < 0.05) return w.point.asItSays;
  return `${percent > 0 ? "+" : "−"}${whole(Math.abs(percent), 1)} %`;
}

/** Calibrations of a point's probe, newest first; the one in force can be taken back. */
export function CalibrationHistory({
  point,
  changed,
}: {
  readonly point: PointView;
  readonly changed: number;
}) {
  const { answer, again } = useAsked<{ items: Entered[] }>("/api/calibrations?limit=200", changed);
  const acts = useActs();
  const channel = point.probe?.channel ?? "";
  if (answer === null) return <CouldNotLoad what={w.point.earlier} again={again} />;
  const own = answer?.items.filter((one) => one.channel === channel) ?? [];
  const [newest, before] = own;
  if (!newest) return <p class="soft sm">{answer ? w.point.notCalibrated : w.frame.loading}</p>;
  const said = newest.points[0]?.read ?? 1;
  const backTo = before?.points ?? [{ read: said, true: said }];
  return (
    <>
      <ol class="log days">
        {own.slice(0, 10).map((one, at) => (
          <li key={`${one.at}${one.validFrom}${at}`}>
            <time>{one.at ? clock(one.at, gatewayNowMs.value) : ""}</time>
            <span>
              <b>{effectOf(one)}</b>
              {one.points.map(({ read, true: is }) => ` · ${figure(read)} → ${figure(is)} µS/cm`)}
              {` · ${byWords(one.by)}`}
              {one.note ? ` · ${one.note === takenBack ? w.point.wasTakenBack : one.note}` : ""}
            </span>
          </li>
        ))}
      </ol>
      {mayAct.value && (
        <div class="acts" ref={acts.host}>
          <ActButton
            acts={acts}
            name={before ? w.point.backToBefore : w.point.takeBack}
            subject={point.title}
            done={before ? w.point.beforeAgain : w.point.ownAgain}
            send={async () => {
              const sent = await send("/api/calibrations", { channel, points: backTo, note: takenBack });
              if (sent.taken) again();
              return sent;
            }}
          />
          <ActAnswer acts={acts} />
        </div>
      )}
    </>
  );
}
