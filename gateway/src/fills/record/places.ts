import { type Drum, type Line, settingsOf } from "../../line/index.ts";
import { nightAt } from "../../quantities/index.ts";
import { feedBefore, isBehindMembrane } from "../behind-membrane.ts";
import { freshBandOf } from "../drum-band.ts";
import { graceMsOf, pointSeenFor } from "../drum-feed.ts";
import type { DrumPlace } from "./drum-record.ts";

function overflowOf(line: Line, { floats }: Drum): DrumPlace["overflow"] {
  const float = floats.find(({ role }) => role === "overflow");
  if (!float) return null;
  const { days } = settingsOf(line, "float-unproven", float.id);
  return { id: float.id, days: typeof days === "number" ? days : null };
}

/** What the line says round each drum. */
export function placesOf(line: Line): ReadonlyMap<string, DrumPlace> {
  const { timezone, night } = line;
  return new Map(
    line.drums.map((drum) => {
      const seenAt = pointSeenFor(line, drum);
      const point = line.points.find(({ id }) => id === seenAt);
      return [
        drum.id,
        {
          drum,
          seenAt,
          seenTitle: point?.title ?? seenAt,
          feedAt: feedBefore(line, seenAt),
          limit25: point?.limit25UsPerCm ?? null,
          isBehindMembrane: isBehindMembrane(line, seenAt),
          band25: freshBandOf(line, drum, seenAt),
          graceMs: graceMsOf(line, drum),
          isNight: (ms: number) => nightAt(Math.floor(ms), timezone, night.from, night.to) !== null,
          overflow: overflowOf(line, drum),
        },
      ];
    }),
  );
}
