import type { ConditionText } from "../form/condition-text.ts";

/** What it says in English. */
export const en: ConditionText = {
  title: "Float is due for a test",
  headline: "{subject}: due for a test",
  cause: "Nobody has tested it for a long time, and no good fill has shown that it works.",
  consequence: "A failed float is found out only on the day it is needed.",
  response: "Test it from the drum's card: by hand, in a bucket, or with the drum's own water.",
  after: "It has been seen to work: nothing is left to do.",
};

/** The same in German. */
export const de: ConditionText = {
  title: "Schwimmer muss getestet werden",
  headline: "{subject}: Test fällig",
  cause: "Niemand hat ihn seit Langem getestet, und keine gute Füllung hat gezeigt, dass er arbeitet.",
  consequence: "Dass ein Schwimmer versagt hat, zeigt sich sonst erst an dem Tag, an dem er gebraucht wird.",
  response: "Auf der Karte des Behälters testen: von Hand, im Eimer oder mit dem Wasser des Behälters.",
  after: "Er hat gezeigt, dass er arbeitet: Es bleibt nichts zu tun.",
};
