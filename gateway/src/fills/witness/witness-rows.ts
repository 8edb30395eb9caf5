import type { Gone } from "../../measurements/index.ts";
import { forgetLevel } from "./level.ts";
import { newLevelTrace } from "./level-trace.ts";
import { newWitnessState, type WitnessState } from "./witness-state.ts";

const kinds = ["meter", "level", "float", "inlet", "pump", "person", "volumes"] as const;
const mapOf = (state: WitnessState, kind: (typeof kinds)[number]): Map<string, unknown> =>
  (kind === "volumes" ? state.volumes : state[`${kind}s`]) as Map<string, unknown>;

/** What is kept over a restart, and which of it has changed. */
export interface KeptWitnesses {
  state: WitnessState;
  readonly changed: Set<string>;
  /** Channels of contacts that their node debounces. */
  readonly debounced: Set<string>;
  atMs: number;
  /** What was last heard by a reading that had waited in its node, by its series; and when that tells no more of now. */
  readonly late: Map<string, Gone>;
  caughtUpAtMs: number;
}

/** Row `own`. */
interface OwnRow {
  readonly atMs: number;
  readonly greatest: readonly [drum: string, flow: number][];
  readonly debounced?: readonly string[];
  /** Absent: nothing had waited, or a row of versions before. */
  readonly late?: { readonly atMs: number; readonly said: readonly [series: string, said: Gone][] };
}

function ownRow({ state, atMs, debounced, late, caughtUpAtMs }: KeptWitnesses): OwnRow {
  const own = { atMs, greatest: [...state.greatest], debounced: [...debounced] };
  return late.size === 0 ? own : { ...own, late: { atMs: caughtUpAtMs, said: [...late] } };
}

/** The rows that have changed since they were asked for last. */
export function* dirty(all: KeptWitnesses): Iterable<readonly [string, unknown]> {
  for (const key of all.changed) {
    const space = key.indexOf(" ");
    if (space < 0) continue;
    const map = mapOf(all.state, key.slice(0, space) as (typeof kinds)[number]);
    yield [key, map.get(key.slice(space + 1))];
  }
  if (all.changed.size > 0) yield ["own", ownRow(all)];
  all.changed.clear();
}

/** Takes up what was kept. */
export function load(all: KeptWitnesses, rows: ReadonlyMap<string, unknown>, fromVersion: number): void {
  all.state = newWitnessState();
  for (const [key, plain] of structuredClone(new Map(rows))) {
    const space = key.indexOf(" ");
    if (space > 0)
      mapOf(all.state, key.slice(0, space) as (typeof kinds)[number]).set(key.slice(space + 1), plain);
  }
  // Until version 1 a level's past was moved by what was drawn later: nothing of it can be compared.
  if (fromVersion < 2)
    for (const [key, trace] of all.state.levels) {
      const fresh = { ...newLevelTrace(), ...trace, owed: null, spreadsL: [], spreadMs: 0 };
      forgetLevel(fresh);
      all.state.levels.set(key, fresh);
    }
  const own = rows.get("own") as OwnRow | undefined;
  for (const channel of own?.debounced ?? []) all.debounced.add(channel);
  all.atMs = own?.atMs ?? 0;
  all.caughtUpAtMs = own?.late?.atMs ?? 0;
  for (const [series, said] of own?.late?.said ?? []) all.late.set(series, said);
  for (const [drum, flow] of own?.greatest ?? []) all.state.greatest.set(drum, flow);
}
