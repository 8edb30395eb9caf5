import { w } from "../words/words.ts";

/** What a place is for; a role that the page does not know stays as it came. */
export const roleWords = (role: string): string =>
  Object.hasOwn(w.draw.roles, role) ? w.draw.roles[role as keyof typeof w.draw.roles] : role;

const usual: Readonly<Record<string, readonly string[]>> = {
  point: ["conductivity"],
  drum: ["stop", "overflow"],
  floor: ["floor"],
};

/** Whether a place is shown free before a channel is in the hand: what most lines have, and what floods are seen by. */
export const isUsual = (of: string, role: string) => usual[of]?.includes(role) ?? false;

/** Kinds of stages, as they are chosen. */
export const stageKinds = () =>
  (["sediment", "carbon", "membrane", "resin", "other"] as const).map((value) => ({
    value,
    words: w.draw.kinds[value],
  }));

/** What the water works may put in. */
export const disinfectants = () =>
  (["unknown", "chlorine", "chloramine", "none"] as const).map((value) => ({
    value,
    words: w.draw.disinfectants[value],
  }));
