import { z } from "zod";
import { type Guard, guardCell } from "../../fills/index.ts";
import type { Line } from "../../line/index.ts";
import type { BoardView } from "../../path/index.ts";
import type { AlarmSubject } from "../subject.ts";
import { subjectOf } from "../subject.ts";

/** What conditions that announce a drum's guard have in common. */
export const ofEveryDrum = {
  subjectKinds: ["drum"] as const,
  settings: z.strictObject({}),
  defaults: () => ({}),
  subjects: (line: Line): readonly AlarmSubject[] => line.drums.map(({ id }) => subjectOf("drum", id)),
  place: () => null,
  reads: [guardCell],
  hears: (_place: unknown, { id }: AlarmSubject) => [{ cell: guardCell, key: id }],
};

/** Nothing is known of the drum yet, as after a start without its state: neither raised nor over. */
export const guardUnknown = { is: "unknown", value: null } as const;

/** The guard of the drum that is looked at. */
export const guardOf = (board: BoardView, { id }: AlarmSubject): Guard | undefined =>
  board.get(guardCell, id);
