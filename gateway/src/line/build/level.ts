import type { DrumLevel } from "../line.ts";
import type { DrumFile } from "../schema.ts";
import type { Signal } from "../signals.ts";
import { type Draft, type FilePath, quantityOf, useChannel } from "./draft.ts";

/** What a channel says that is used as a level. */
const signalOfLevel = {
  volume: "volume",
  pressure: "pressure",
  distance: "distance",
  depth: "level",
} as const satisfies Readonly<Record<DrumLevel["as"], Signal>>;

type LevelFile = NonNullable<DrumFile["level"]>;

function strappingOf(draft: Draft, given: LevelFile, path: FilePath): DrumLevel["strapping"] {
  const rows = Object.entries(given.strapping ?? {}).map(
    ([height, litres]) =>
      [
        quantityOf(draft, height, "length", [...path, height]),
        quantityOf(draft, litres, "volume", [...path, height]),
      ] as const,
  );
  const rises = rows.every((row, index) => {
    const before = rows[index - 1];
    return !before || !(row[0] <= before[0] || (given.as !== "distance" && row[1] < before[1]));
  });
  if (!rises)
    draft.complain(
      "strapping-not-rising",
      path,
      "The table's heights and litres must rise from row to row.",
      "Sort the rows from the bottom up.",
    );
  return rows;
}

/** The level of a drum, with the table that turns heights into litres. */
export function levelOf(draft: Draft, drum: string, given: LevelFile): DrumLevel {
  const path = ["drums", drum, "level"];
  const strapping = strappingOf(draft, given, [...path, "strapping"]);
  if (given.as !== "volume" && strapping.length < 2)
    draft.complain(
      "strapping-missing",
      path,
      `A level as ${given.as} needs a table of at least two rows.`,
      'Write strapping: {"0 m": "0 L", "0.75 m": "200 L"}.',
    );
  const channel = useChannel(draft, {
    given: given.channel,
    signal: signalOfLevel[given.as],
    subject: { kind: "drum", id: drum },
    path: [...path, "channel"],
  });
  return { channel, as: given.as, strapping };
}
