import { type LineKey, lineReference } from "../../line/index.ts";

/** How a line's settings are named in the reference, said once in front of it. */
const legend = `The line file, key by key. * stands for a name that you choose; a name has small letters, digits and hyphens.
A channel is written node/channel; with settings it is { channel: node/channel, scale: … }.`;

function keyLines(key: LineKey): string[] {
  const notes = [
    key.isNeeded ? "needed" : null,
    key.unit === null ? null : `unit: ${key.unit}`,
    key.otherwise === null ? null : `left out: ${key.otherwise}`,
  ].filter((note) => note !== null);
  return [
    `  ${key.path}: ${key.takes}`,
    `      ${key.what}`,
    ...(notes.length > 0 ? [`      (${notes.join("; ")})`] : []),
    `      ${key.example}`,
  ];
}

/** The reference of the line file as text; with a word only the keys whose place or text has it, null where none has. */
export function lineHelp(word?: string): string | null {
  const wanted = word?.toLowerCase();
  const isWanted = (key: LineKey) =>
    wanted === undefined ||
    key.path.toLowerCase().includes(wanted) ||
    key.what.toLowerCase().includes(wanted);
  const parts = lineReference().flatMap(({ title, keys }) => {
    const found = keys.filter(isWanted);
    return found.length === 0 ? [] : [[title, ...found.flatMap(keyLines)].join("\n")];
  });
  return parts.length === 0 ? null : [legend, ...parts].join("\n\n");
}
