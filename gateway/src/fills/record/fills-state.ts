import type { Measurement } from "../../measurements/index.ts";
import { membraneLimit25 } from "../behind-membrane.ts";
import { bandByFeed25 } from "../drum-band.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import { takeSaidTrip } from "../learned.ts";
import { type DrumPlace, type DrumRecord, newDrumRecord } from "./drum-record.ts";
import { type FeedTrace, feedOf, newFeedTrace } from "./feeds.ts";
import type { KappaTrace } from "./kappa-trace.ts";
import type { OpenFill } from "./open-fill.ts";
import type { OwedFill } from "./owed-fills.ts";
import type { PastKappa } from "./past-kappa.ts";

/** What the stage of fills works on. */
export interface Fills {
  places: ReadonlyMap<string, DrumPlace>;
  /** Drums whose water is seen at a point, by the point. */
  seenAt: ReadonlyMap<string, readonly DrumPlace[]>;
  records: Map<string, DrumRecord>;
  traces: Map<string, KappaTrace>;
  /** Of points before a drum that is not heard, and the time before their traces. */
  readonly pasts: Map<string, PastKappa>;
  /** Fills of which something was not seen, and may come late, by drum. */
  readonly owed: Map<string, readonly OwedFill[]>;
  feeds: Map<string, FeedTrace>;
  /** Fills that ran when the stage's state was lost, by drum: taken up once time has come to where they began. */
  readonly interrupted: Map<string, OpenFill>;
  readonly seen: Map<string, DrumWitnesses>;
  readonly changed: Set<string>;
  /** How often what a drum's fills taught had changed when others were shown it, by drum; absent: not since the start. */
  readonly shownChanges: Map<string, number>;
  /** When readings of a point last came late, engine time. */
  readonly lateKappaMs: Map<string, number>;
  /** Points whose trace has changed. */
  readonly changedTraces: Set<string>;
  /** What came in this step had waited in a node: it is of a time that is over. */
  isLate: boolean;
  /** When a stop that has failed by what came late is told, by drum: what waited has come by then, and it stands. */
  readonly standsMs: Map<string, number>;
  /** Readings of quality of this step; those that had waited in their node. */
  kappas: { readonly measurement: Measurement; readonly isLate: boolean }[];
}

/** Where the line says that a drum's stop float trips, L; null: it does not say. */
export const saidTripL = (place: DrumPlace | undefined): number | null =>
  place?.drum.floats.find(({ role }) => role === "stop")?.tripsAtL ?? null;

/** The record of a drum, made at first sight. */
export function recordOf(all: Fills, drum: string): DrumRecord {
  let record = all.records.get(drum);
  if (!record) {
    record = newDrumRecord();
    all.records.set(drum, record);
    takeSaidTrip(record.learned, saidTripL(all.places.get(drum)));
  }
  return record;
}

/** Above it the water is bad; behind a membrane alone a tenth of what it is fed with. Null where nothing is judged. */
export function limitOf(all: Fills, place: DrumPlace): number | null {
  if (!place.isBehindMembrane || place.limit25 !== null || place.feedAt === null) return place.limit25;
  return membraneLimit25(feedOf(all.feeds.get(place.feedAt) ?? newFeedTrace()));
}

/** What a drum's fresh water may read now, uS/cm; null: nothing is asked of it, or nothing is known of its feed. */
export function bandOf(all: Fills, { band25, feedAt }: DrumPlace): number | null {
  if (band25 !== "by-feed") return band25;
  return bandByFeed25(feedAt === null ? null : feedOf(all.feeds.get(feedAt) ?? newFeedTrace()));
}

/** Which readings before a drum are good by its limit, uS/cm; null: nothing is judged. */
export const isGoodFor =
  (limit25: number | null) =>
  (kappa25: number): boolean =>
    limit25 === null || kappa25 <= limit25;

/** A record of version 2, with what has come to it since. */
export function completed(record: DrumRecord): DrumRecord {
  const fresh = newDrumRecord();
  return {
    ...fresh,
    ...record,
    call: null,
    learned: { ...fresh.learned, ...record.learned },
    guard: { ...fresh.guard, ...record.guard },
  };
}

/** The rows of the checkpoint, by the first word of their keys. */
export const mapsOf = (all: Fills): Readonly<Record<string, Map<string, unknown>>> => ({
  drum: all.records as Map<string, unknown>,
  trace: all.traces as Map<string, unknown>,
  feed: all.feeds as Map<string, unknown>,
  past: all.pasts as Map<string, unknown>,
  owed: all.owed as Map<string, unknown>,
});
