import {
  feedBefore,
  feedCell,
  isBehindMembrane,
  membraneLimit25,
  type RunState,
  runCell,
} from "../../fills/index.ts";
import type { PointView } from "../../http/index.ts";
import type { Line, Point } from "../../line/index.ts";
import { saidCell } from "../../measurements/index.ts";
import { solidsOfKappa25 } from "../../water/index.ts";
import { iso, type Looking, quantitiesOf, quantityView } from "./quantity-view.ts";

/** Above this κ25 (uS/cm) solids are no estimate of fresh water any more. */
const maxKappa25ForSolids = 70_000;

/** Over it the water is bad, uS/cm at 25 °C; behind a membrane alone it follows what that is fed with. Null: nothing judges. */
function limitOf({ board }: Looking, line: Line, { id, limit25UsPerCm }: Point): number | null {
  if (limit25UsPerCm !== null || !isBehindMembrane(line, id)) return limit25UsPerCm;
  const feed = feedBefore(line, id);
  return membraneLimit25(feed === null ? null : board.get(feedCell, feed));
}

function judgedView(
  limit: number | null,
  kappa25: number | null,
  run: RunState | undefined,
): PointView["judged"] {
  if (limit === null) return { now: false, because: "no-limit" };
  if (kappa25 === null) return { now: false, because: "no-valid-reading" };
  if (!run || run.basis === "none") return { now: true, because: "by-time" };
  if (run.flowing === null) return { now: false, because: "flow-unknown" };
  if (!run.flowing) return { now: false, because: "no-flow" };
  return run.settled ? { now: true, because: null } : { now: false, because: "settling" };
}

function runView(looking: Looking, run: RunState | undefined): PointView["run"] {
  return {
    flowing: run?.flowing ?? null,
    basis: run?.basis ?? "none",
    since: iso(looking, run?.flowing ? run.startedAtMs : (run?.endedAtMs ?? null)),
    litres: run?.litres ?? null,
    flow: run?.flowLPerMin ?? null,
    settled: run?.settled ?? null,
  };
}

/** A point as pages and programs see it. */
export function pointView(looking: Looking, line: Line, point: Point): PointView {
  const { board } = looking;
  const { id, conductivity } = point;
  const kappa25 = quantityView(looking, "point", id, "conductivity25");
  const salinity = quantityView(looking, "point", id, "salinity");
  const run = board.get(runCell, id);
  const limit = limitOf(looking, line, point);
  const solids =
    kappa25.value === null
      ? null
      : solidsOfKappa25(Math.min(maxKappa25ForSolids, Math.max(0, kappa25.value)), line.solids);
  return {
    id,
    title: point.title,
    conductivity25: kappa25,
    conductivity: quantityView(looking, "point", id, "conductivity"),
    solids: { ...kappa25, unit: "mg/L", value: solids, estimated: true },
    temperature: quantityView(looking, "point", id, "temperature"),
    ...(salinity.value === null ? {} : { salinity }),
    limit,
    judged: judgedView(limit, kappa25.value, run),
    run: runView(looking, run),
    hasProbe: conductivity !== null,
    quantities: quantitiesOf(looking, "point", id),
    probe:
      conductivity === null
        ? null
        : { channel: conductivity, said: board.get(saidCell, conductivity) ?? null },
  };
}
