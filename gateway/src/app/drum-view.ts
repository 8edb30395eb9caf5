import type { RunState } from "../fills/index.ts";
import { type DrumView, iso, type Quantity } from "../http/index.ts";
import type { Drum } from "../line/index.ts";
import type { Measurement } from "../measurements/index.ts";

/** What a drum's card is made of. */
export interface DrumFacts {
  readonly volume: Quantity;
  readonly run: RunState | null;
  readonly ownFlow: Measurement | null;
  readonly float: (id: string) => Measurement | null;
  readonly changedAtMs: (id: string) => number | null;
  readonly isCurrent: (measurement: Measurement) => boolean;
  /** Another drum is fed by the same point: its run alone does not tell which one fills. */
  readonly shared: boolean;
}

function missingOf(drum: Drum): string[] {
  const has = (role: string) => drum.floats.some((float) => float.role === role);
  return [
    ...(drum.level ? [] : ["no level here: litres are not known; next to buy, a level sensor"]),
    ...(has("stop") ? [] : ["no stop float here: nothing shows that the fill ends"]),
    ...(has("overflow") ? [] : ["no overflow watch here: next to buy, an overflow float or a floor sensor"]),
  ];
}

/** A drum as far as it is known. The water's verdict is `unknown` until fills are recorded, and says so. */
export function drumView(drum: Drum, facts: DrumFacts): DrumView {
  const own = facts.ownFlow && facts.isCurrent(facts.ownFlow) ? facts.ownFlow.value : null;
  const flow = own ?? (facts.shared ? null : (facts.run?.flowLPerMin ?? null));
  const filling = own !== null ? own > 0.05 : facts.shared ? null : (facts.run?.flowing ?? null);
  const stop = drum.floats.find((float) => float.role === "stop");
  const secondsTo = (litres: number | null | undefined): number | null =>
    filling && flow && litres && facts.volume.value !== null && litres > facts.volume.value
      ? ((litres - facts.volume.value) / flow) * 60
      : null;
  return {
    id: drum.id,
    title: drum.title,
    fedBy: drum.fedBy,
    holds: drum.holds,
    control: drum.control,
    capacity: drum.volumeL,
    volume: facts.volume,
    filling,
    flow,
    timeToTrip: secondsTo(stop?.tripsAtL),
    timeToOverflow: secondsTo(drum.volumeL),
    water: {
      verdict: "unknown",
      since: null,
      reasons: ["fills are not recorded yet: what came in is not known as a whole"],
    },
    floats: drum.floats.map((float) => {
      const state = facts.float(float.id);
      const known = state !== null && state.value !== null && facts.isCurrent(state);
      return {
        role: float.role,
        state: known ? (state.value === 1 ? "wet" : "dry") : "unknown",
        changedAt: iso(facts.changedAtMs(float.id)),
      };
    }),
    missing: missingOf(drum),
  };
}
