import { inOwnUnit, type Slot } from "../line/index.ts";
import type { Announced, Memory } from "./memory.ts";

function announcedOf(memory: Memory, { node, name }: Slot): Announced[number] | undefined {
  const announced = memory.announcedBy(node);
  for (let index = 0; index < announced.length; index += 1)
    if (announced[index]?.name === name) return announced[index];
  return undefined;
}

/** A channel's resolution in its signal's own unit: the line's word goes before the node's. Null: nobody says. */
export function resolutionOf(memory: Memory, slot: Slot): number | null {
  if (slot.use.resolution !== null) return slot.use.resolution;
  const said = announcedOf(memory, slot);
  return said && said.resolution !== null ? inOwnUnit(slot.use.signal, said.resolution, said.unit) : null;
}

/** Whether a conductivity is already compensated to 25 °C, by the line or by the node. */
export function isAt25(memory: Memory, slot: Slot): boolean {
  return slot.use.compensation === "none" || announcedOf(memory, slot)?.at25 === true;
}
