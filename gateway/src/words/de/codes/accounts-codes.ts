import { text } from "./code-text.ts";

/** What accounts refuse. */
export const ofAccounts = {
  "name-not-usable": text(
    "Dieser Name geht nicht",
    "Kurze Namen aus Buchstaben, Ziffern, Punkt, Leerzeichen und Bindestrich gehen.",
  ),
  "name-taken": text("Diesen Namen gibt es schon", "Einen anderen wählen oder den alten zuerst entfernen."),
  "password-not-usable": text(
    "Dieses Passwort geht nicht",
    "Ein längeres nehmen, das niemand so leicht errät: Ein paar Wörter sind gut.",
  ),
  "person-unknown": text("Diese Person gibt es nicht", "Auf der Seite „Personen“ stehen alle."),
  "token-unknown": text("Diesen Schlüssel gibt es nicht", "Auf der Seite „Personen“ stehen alle."),
  "node-unknown": text(
    "Kein solcher Knoten darf sich anmelden",
    "drumlin node list zeigt, welche es dürfen.",
  ),
  "last-operator": text("Jemand muss noch bedienen dürfen", "Erst jemand anderen zur Bedienung berechtigen."),
  "set-up-done": text("Das erste Konto gibt es schon", "Damit anmelden."),
  "set-up-code-wrong": text(
    "Der Einrichtungscode ist falsch",
    "Den Code eingeben, den das Gateway bei seinem letzten Start ausgegeben hat.",
  ),
  "sign-in-wrong": text(
    "Name oder Passwort ist falsch",
    "Noch einmal versuchen; wer bedienen darf, kann ein neues Passwort vergeben: drumlin user password NAME.",
  ),
  "too-many-sign-ins": text("Zu viele Anmeldeversuche", "Einen Moment warten."),
  "sign-in-busy": text("Zu viele Anmeldungen gleichzeitig", "Gleich noch einmal versuchen."),
  "accounts-full": text("Die Höchstzahl an Konten ist erreicht", "Eines entfernen, das niemand braucht."),
  "accounts-not-written": text(
    "Der Datenträger nimmt die Änderung nicht an",
    "Auf dem Datenträger des Gateways Platz schaffen; dann noch einmal versuchen. Anmelden geht weiterhin.",
  ),
};
