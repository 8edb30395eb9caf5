import { basename } from "node:path";
import type { Salvaged } from "./salvage.ts";

/** So many stretches are told one by one. */
const maxTold = 5;

function listed(stretches: readonly string[]): string {
  const more = stretches.length - maxTold;
  return stretches.slice(0, maxTold).join(", ") + (more > 0 ? ` and ${more} stretches more` : "");
}

/** What became of a damaged file of the journal, in a sentence that begins with its name. */
export function salvagedText(path: string, { aside, unread, lost }: Salvaged): string {
  const said = [
    `${basename(path)} was damaged; what could be read was kept, it is set aside as ${basename(aside)}`,
  ];
  if (unread.length > 0)
    said.push(`its disk does not give bytes ${listed(unread.map(({ from, to }) => `${from} to ${to - 1}`))}`);
  if (lost.length > 0)
    said.push(`entries ${listed(lost.map(([from, to]) => `${from} to ${to}`))} can't be run again`);
  return said.join("; ");
}
