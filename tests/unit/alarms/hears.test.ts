import { conditionRows, readLineFile } from "@drumlin/gateway/alarms";
import { expect, it } from "vitest";
import { scripts } from "../../acceptance/conditions/scripts.ts";

/** Cells that are only looked at when something that is heard has come: a limit, a height, how urgent it is. */
const besides: Readonly<Record<string, readonly string[]>> = {
  // The same reading of the float that is heard, counted.
  "drum-high-high": ["witness"],
  // Asked again each minute while it is silent and a drum on it fills.
  "node-silent": ["inflow", "latest"],
  // Asked again each minute while its node talks on without it.
  "probe-implausible": ["node"],
  // How long the node has been up.
  "readings-refused": ["node"],
  // Where it trips, and the spread of the level that is heard.
  "float-disagrees": ["float", "witness"],
  // What membrane or resin is fed with, over 24 h.
  "drum-off-target": ["feed"],
  "membrane-passing": ["feed"],
  "removal-low": ["feed"],
  "resin-breakthrough": ["feed"],
  // What the fills before the one that is heard took.
  "fill-slow": ["learned"],
};

const lines = [...scripts.values()].flatMap(({ lines: texts }) =>
  [...texts.values()].flatMap((text) => {
    const read = readLineFile(text);
    return read.ok ? [read.line] : [];
  }),
);

it.each(conditionRows.map((row) => [row.id, row] as const))(
  "%s hears every cell that it reads",
  (id, row) => {
    const heard = new Set(
      lines.flatMap((line) =>
        row
          .subjects(line)
          .flatMap((subject) => row.hears(row.place(line, subject), subject).map(({ cell }) => cell.name)),
      ),
    );
    const unheard = row.reads.map(({ name }) => name).filter((name) => !heard.has(name));
    expect(unheard.sort()).toEqual(besides[id] ?? []);
  },
);
