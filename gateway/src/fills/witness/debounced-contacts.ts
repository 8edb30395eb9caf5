import type { NodePresence } from "../../readings/index.ts";
import type { Witnesses } from "./witnesses.ts";

/** Contacts that their node debounces: one reading of them is enough. */
export function takePresence(all: Witnesses, { node, online, channels }: NodePresence): void {
  if (!online) return;
  for (const { name, debounced } of channels) {
    const channel = `${node}/${name}`;
    if (debounced) all.debounced.add(channel);
    else all.debounced.delete(channel);
  }
  all.changed.add("own");
}
