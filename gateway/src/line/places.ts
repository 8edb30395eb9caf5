import type { Line } from "./line.ts";
import { drumChannels, pointChannels } from "./schema.ts";
import { inOwnUnit, type Signal } from "./signals.ts";

/** A place of the line that a channel can stand at. */
export interface LinePlace {
  /** Where it stands in the line file, "/" between the keys: "drums/fresh/floats/overflow". */
  readonly place: string;
  readonly of: { readonly kind: "point" | "stage" | "drum" | "floor"; readonly id: string };
  /** What it is there: conductivity, stop, level … */
  readonly role: string;
  /** What a channel may say there; a level may be told in three ways. */
  readonly signals: readonly Signal[];
  /** The channel that stands there; null: none yet. */
  readonly channel: string | null;
}

const floatRoles = ["stop", "start", "overflow", "low"] as const;
const ofLevel = ["level", "volume", "pressure"] as const satisfies readonly Signal[];

/** Every place of a line, taken or free, in the order of the file; one floor more than there are. */
export function placesOf({ points, stages, drums, floors }: Line): LinePlace[] {
  const freeFloor = ["floor", ...floors.map((_, at) => `floor-${at + 2}`)].find(
    (id) => !floors.some((floor) => floor.id === id),
  );
  return [
    ...points.flatMap((point) =>
      Object.entries(pointChannels).map(
        ([role, { signal }]): LinePlace => ({
          place: `points/${point.id}/${role}`,
          of: { kind: "point", id: point.id },
          role,
          signals: [signal],
          channel: point[role as keyof typeof pointChannels],
        }),
      ),
    ),
    ...stages.map(
      ({ id, flow }): LinePlace => ({
        place: `stages/${id}/flow`,
        of: { kind: "stage", id },
        role: "flow",
        signals: ["flow"],
        channel: flow,
      }),
    ),
    ...drums.flatMap((drum): LinePlace[] => {
      const of = { kind: "drum", id: drum.id } as const;
      return [
        ...floatRoles.map(
          (role): LinePlace => ({
            place: role === "stop" ? `drums/${drum.id}/stop` : `drums/${drum.id}/floats/${role}`,
            of,
            role,
            signals: ["contact"],
            channel: drum.floats.find((float) => float.role === role)?.channel ?? null,
          }),
        ),
        {
          place: `drums/${drum.id}/level`,
          of,
          role: "level",
          signals: ofLevel,
          channel: drum.level?.channel ?? null,
        },
        {
          place: `drums/${drum.id}/inlet`,
          of,
          role: "inlet",
          signals: ["contact"],
          channel: drum.inlet?.channel ?? null,
        },
        ...Object.entries(drumChannels).map(
          ([role, { signal }]): LinePlace => ({
            place: `drums/${drum.id}/${role}`,
            of,
            role,
            signals: [signal],
            channel: drum[role as keyof typeof drumChannels],
          }),
        ),
      ];
    }),
    ...[...floors, ...(freeFloor === undefined ? [] : [{ id: freeFloor, channel: null }])].map(
      ({ id, channel }): LinePlace => ({
        place: `floors/${id}`,
        of: { kind: "floor", id },
        role: "floor",
        signals: ["contact"],
        channel,
      }),
    ),
  ];
}

/**
 * The signal by which a channel's value can be taken at a place; null: none, it says something else. What comes without
 * a unit fits by its value: 0 and 1 are a contact or a standstill, never a conductivity, temperature or pressure.
 */
export function signalThere(
  { signals }: Pick<LinePlace, "signals">,
  { value, unit }: { readonly value: number; readonly unit: string | null },
): Signal | null {
  const mayBeContact = value === 0 || value === 1;
  return (
    signals.find((signal) => {
      if (signal === "contact") return unit === null && mayBeContact;
      if (inOwnUnit(signal, value, unit) === null) return false;
      return unit !== null || !mayBeContact || signal === "flow" || signal === "level";
    }) ?? null
  );
}
