/** What a channel is at its place. */
const roles: Readonly<Record<string, string>> = {
  conductivity: "conductivity",
  temperature: "temperature",
  pressure: "pressure",
  level: "level",
  flow: "flow",
  stop: "stop float",
  start: "start float",
  overflow: "overflow float",
  low: "low float",
  inlet: "inlet valve",
  floor: "floor sensor",
};

/** What a place is for. */
export const roleWords = (role: string) => roles[role] ?? role;

const usual: Readonly<Record<string, readonly string[]>> = {
  point: ["conductivity"],
  drum: ["stop", "overflow"],
  floor: ["floor"],
};

/** Whether a place is shown free before a channel is in the hand: what most lines have, and what floods are seen by. */
export const isUsual = (of: string, role: string) => usual[of]?.includes(role) ?? false;

/** Kinds of stages, as they are chosen. */
export const stageKinds = [
  { value: "sediment", words: "Sediment filter" },
  { value: "carbon", words: "Carbon" },
  { value: "membrane", words: "Membrane" },
  { value: "resin", words: "Resin" },
  { value: "other", words: "Other" },
] as const;

/** What the water works may put in. */
export const disinfectants = [
  { value: "unknown", words: "I don't know" },
  { value: "chlorine", words: "Chlorine" },
  { value: "chloramine", words: "Chloramine" },
  { value: "none", words: "None" },
] as const;

/** Why a limit of 5 µS/cm stands behind resin. */
export const whyLimit =
  "Proposed: 5 µS/cm at 25 °C. ASTM D1193 (type IV) and ISO 3696 (grade 3) both ask for 5.0 of purified water. Spent resin passes it first, then ammonia, nitrate and silica.";

/** Why litres are asked for. */
export const whyVolume =
  "To the edge over which it would run: the overflow alarm and the time that is left go by it. Fill it once from a measured bucket if nobody knows.";
export const whyVessel =
  "The outer volume of the vessel. What stood in it runs off first and is counted, not judged: 1.5 × (0.4 × vessel + pipe), at least 2 L.";
