import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Float has not moved",
  headline: "{subject}: hasn't moved",
  cause: "It is stuck, fouled or tangled, its wire is broken or shorted, or it hangs higher than you think.",
  consequence: "It stops nothing and warns of no flood.",
  response:
    "Stay with fills until it works. Free and clean it, check its wire, then test it from the drum's card.",
  after: "It has moved again. Clean it, check its wire, and test it before you count on it.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Schwimmer bewegt sich nicht",
  headline: "{subject}: hat sich nicht bewegt",
  cause:
    "Er klemmt, ist verschmutzt oder verheddert, sein Kabel ist gebrochen oder kurzgeschlossen, oder er hängt höher als gedacht.",
  consequence: "Er stoppt nichts und warnt vor keiner Überschwemmung.",
  response:
    "Bei Füllungen dabeibleiben, bis er arbeitet. Freimachen und reinigen, Kabel prüfen, dann auf der Karte des Behälters testen.",
  after: "Er hat sich wieder bewegt. Reinigen, Kabel prüfen und testen, bevor Verlass auf ihn ist.",
};
