import { type Drum, type Line, nearestProbeBefore, settingsOf, stageInto } from "../../line/index.ts";
import { graceMsOf, pointSeenFor } from "../drum-feed.ts";
import type { DrumPlace } from "./drum-record.ts";

/** The point with a probe from which a point's media are fed: past every resin and membrane before it. */
function feedBefore(line: Line, point: string): string | null {
  let at = point;
  for (let stage = stageInto(line, at); stage; stage = stageInto(line, at)) {
    at = stage.from;
    if (stage.kind !== "resin" && stage.kind !== "membrane") continue;
    const probe = nearestProbeBefore(line, at);
    if (probe) return probe.id;
  }
  return null;
}

function limitOf(line: Line, point: string): number | null {
  const own =
    line.conditions.get(`resin-breakthrough:${point}`)?.limit ??
    line.conditions.get("resin-breakthrough")?.limit;
  if (typeof own === "number") return own;
  return line.points.find(({ id }) => id === point)?.limit25UsPerCm ?? null;
}

function overflowOf(line: Line, { floats }: Drum): DrumPlace["overflow"] {
  const float = floats.find(({ role }) => role === "overflow");
  if (!float) return null;
  const { days } = settingsOf(line, "float-unproven", float.id);
  return { id: float.id, days: typeof days === "number" ? days : null };
}

/** What the line says round each drum. */
export function placesOf(line: Line): ReadonlyMap<string, DrumPlace> {
  return new Map(
    line.drums.map((drum) => {
      const seenAt = pointSeenFor(line, drum);
      return [
        drum.id,
        {
          drum,
          seenAt,
          seenTitle: line.points.find(({ id }) => id === seenAt)?.title ?? seenAt,
          feedAt: feedBefore(line, seenAt),
          limit25: limitOf(line, seenAt),
          isBehindMembrane: stageInto(line, seenAt)?.kind === "membrane",
          graceMs: graceMsOf(line, drum),
          overflow: overflowOf(line, drum),
        },
      ];
    }),
  );
}
