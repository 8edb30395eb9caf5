import { asSet } from "../format/numbers.ts";
import { conductivity25, limitFigure, toShown, unitOf } from "../format/units.ts";
import { say, w } from "../words/words.ts";

/** From pure water (0.05) to 500 uS/cm in equal decades, so that 1 and 5 lie apart on one scale with the supply. */
const lowest = 0.05;
const decades = 4;

/** Where a conductivity stands on the scale, percent from the left. */
function placeOf(value: number): number {
  return Math.min(1, Math.max(0, Math.log10(Math.max(value, lowest) / lowest) / decades)) * 100;
}

interface LimitScaleProps {
  /** µS/cm at 25 °C. */
  readonly value: number;
  readonly limit: number;
  readonly judged: boolean;
}

/** A ruled scale: the limit as an upright, the value as a pointer, or as a ring while it is not judged. */
export function LimitScale({ value, limit, judged }: LimitScaleProps) {
  const words = say(judged ? w.point.scale : w.point.scaleNotJudged, {
    value: conductivity25(value),
    limit: limitFigure(limit, "uS/cm"),
  });
  return (
    <div class="scale" role="img" aria-label={words}>
      <div class="ax" />
      <span class="lim" style={{ left: `${placeOf(limit)}%` }}>
        <b>{say(w.point.limitOf, { value: limitFigure(limit, "uS/cm") })}</b>
      </span>
      <span class={judged ? "ptr" : "ptr h"} style={{ left: `${placeOf(value)}%` }} />
      <div class="ends">
        <span>{asSet(toShown("conductivity25", lowest))}</span>
        <span>
          {asSet(toShown("conductivity25", lowest * 10 ** decades))} {unitOf("conductivity25")}
        </span>
      </div>
    </div>
  );
}
