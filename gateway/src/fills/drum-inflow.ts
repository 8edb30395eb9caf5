import type { Drum, Line } from "../line/index.ts";
import {
  type Basis,
  basesOfDrum,
  type createFlowSources,
  type FlowSource,
  metersBefore,
  personBasis,
} from "./flow-sources.ts";
import type { FlowBasis } from "./run.ts";

type Sources = Pick<ReturnType<typeof createFlowSources>, "best">;

/** What is known of the inflow of one drum at one moment. */
export interface Inflow {
  readonly flowing: boolean | null;
  readonly basis: FlowBasis;
  readonly flowLPerMin: number | null;
  /** The flow of a shared meter, divided between drums that fill at once without levels to tell their shares. */
  readonly estimated: boolean;
}

/** The sources of one drum, looked up once for each line. */
export interface InflowBases {
  readonly own: readonly Basis[];
  readonly meters: readonly { readonly meter: Basis; readonly sharedWith: readonly string[] }[];
}

const unknown: Inflow = { flowing: null, basis: "none", flowLPerMin: null, estimated: false };

/** A drum's own sources (a person's word last), and the meters that its water passes, with the drums that share them. */
export function inflowBases(line: Line, drum: Drum): InflowBases {
  return {
    own: [...basesOfDrum(drum), personBasis(drum)],
    meters: metersBefore(line, drum).map((meter) => ({
      meter,
      sharedWith: line.drums.flatMap((other) =>
        other.id !== drum.id && metersBefore(line, other).some(({ key }) => key === meter.key)
          ? [other.id]
          : [],
      ),
    })),
  };
}

function ofOwn(found: ReturnType<Sources["best"]>): Inflow {
  return found
    ? {
        flowing: found.source.flowing,
        basis: found.basis,
        flowLPerMin: found.source.flowing ? found.source.flowLPerMin : 0,
        estimated: false,
      }
    : unknown;
}

/** This drum's part of a meter that several drums share: by their levels where all tell, else in equal parts. */
function partOf(metered: FlowSource, own: FlowSource | null, others: readonly (FlowSource | null)[]): Inflow {
  const basis = "flow-meter";
  if (!metered.flowing) return { flowing: false, basis, flowLPerMin: 0, estimated: false };
  if (own && !own.flowing) return { flowing: false, basis, flowLPerMin: 0, estimated: false };
  const running = others.filter((other) => other?.flowing);
  if (!own && (running.length > 0 || others.some((other) => other === null))) return unknown;
  if (running.length === 0)
    return { flowing: true, basis, flowLPerMin: metered.flowLPerMin, estimated: false };
  const total = metered.flowLPerMin;
  const rises = [own, ...running].map((source) => source?.flowLPerMin ?? null);
  const sum = rises.every((rise) => rise !== null) ? rises.reduce((all, rise) => all + rise, 0) : 0;
  const share = sum > 0 ? (rises[0] as number) / sum : 1 / (running.length + 1);
  return { flowing: true, basis, flowLPerMin: total === null ? null : total * share, estimated: sum <= 0 };
}

/**
 * The inflow of a drum: by a meter that its water alone passes, else by its part of a shared one, else by its own level,
 * inlet, call or a person's word.
 */
export function inflowOf(
  bases: InflowBases,
  ownOf: (drum: string) => readonly Basis[],
  sources: Sources,
): Inflow {
  const own = sources.best(bases.own);
  for (const { meter, sharedWith } of bases.meters) {
    const found = sources.best([meter]);
    if (!found) continue;
    if (sharedWith.length === 0)
      return {
        flowing: found.source.flowing,
        basis: "flow-meter",
        flowLPerMin: found.source.flowLPerMin,
        estimated: false,
      };
    const others = sharedWith.map((drum) => sources.best(ownOf(drum))?.source ?? null);
    const part = partOf(found.source, own?.source ?? null, others);
    if (part.flowing !== null) return part;
  }
  return ofOwn(own);
}
