import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Frost",
  headline: "{subject}: frost",
  cause: "The room or the pipe is cold: a heater that failed, an open door, a cold night.",
  consequence:
    "A frozen pipe or housing bursts; it floods when it thaws, and no float stops the water from a burst.",
  response:
    "Warm the room, let a little water run. If a pipe is frozen already, close the supply before it thaws.",
  after: "Look along pipes and housings for cracks before water runs again, and stay with the first fill.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Frostgefahr",
  headline: "{subject}: Frostgefahr",
  cause: "Raum oder Rohr ist kalt: Heizung ausgefallen, Tür offen, kalte Nacht.",
  consequence:
    "Ein eingefrorenes Rohr oder Gehäuse platzt; beim Auftauen läuft es aus, und kein Schwimmer hält das Wasser auf.",
  response:
    "Raum heizen, etwas Wasser laufen lassen. Ist ein Rohr schon gefroren, vor dem Auftauen den Zulauf absperren.",
  after:
    "Rohre und Gehäuse auf Risse absuchen, bevor wieder Wasser läuft, und bei der ersten Füllung dabeibleiben.",
};
