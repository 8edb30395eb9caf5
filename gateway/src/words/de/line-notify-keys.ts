import type { KeyWords } from "../form/key-words.ts";

const titled = "aus dem Namen gebildet";

/** German of the keys of who is told, by their place in the line file. */
export const lineNotifyKeys: Readonly<Record<string, KeyWords>> = {
  notify: {
    what: "Wer Nachricht bekommt, wenn etwas nicht stimmt, und wie. Passwörter und Schlüssel stehen nie hier: Sie sind Dateien im Ordner secrets.",
  },
  "notify.page": {
    what: "Die Adresse, unter der die Seite zu erreichen ist; Nachrichten verweisen dorthin.",
    otherwise: "Nachrichten haben keinen Link",
  },
  "notify.language": { what: "Die Sprache der Nachrichten: en oder de." },
  "notify.wake": { what: "Was jemanden weckt." },
  "notify.wake.again": { what: "In diesem Abstand wird noch einmal gemeldet, bis es gesehen ist." },
  "notify.wake.second_after": { what: "Bleibt es so lange ungesehen, bekommt die zweite Person Nachricht." },
  "notify.tell": { what: "Was sofort gemeldet wird, ohne zu wecken." },
  "notify.tell.again": { what: "Bleibt es so lange ungesehen, wird noch einmal gemeldet." },
  "notify.today": { what: "Wann die Morgenliste hinausgeht, wenn etwas darauf steht." },
  "notify.mail": {
    what: "Der Server, der E-Mail annimmt. Sein Passwort ist das Geheimnis smtp-password; es geht nur an den Server, für den es gegeben wurde: Nach einem Wechsel ist es neu zu schreiben.",
  },
  "notify.mail.server": { what: "Sein Name." },
  "notify.mail.port": { what: "Sein Port.", otherwise: "587; 465 mit tls, 25 mit none" },
  "notify.mail.security": {
    what: "Wie der Weg dorthin gesichert ist; none nur in einem eigenen Netz.",
  },
  "notify.mail.user": { what: "Der Name, mit dem angemeldet wird.", otherwise: "ohne Anmeldung" },
  "notify.mail.from": { what: "Von wem die E-Mail kommt." },
  "notify.push_hosts": {
    what: "Rechner von Push-Diensten neben denen der üblichen Browser: Nirgendwo sonst werden Geräte erreicht.",
    otherwise: "nur die üblichen",
  },
  "notify.to": { what: "Empfänger, mit ihren Namen. Jeder hat einen Weg." },
  "notify.to.*.title": { what: "Wie Seiten ihn nennen.", otherwise: titled },
  "notify.to.*.person": {
    what: "Wem er gehört: der Name des Kontos. Die Person kann einen Alarm aus der Nachricht heraus als gesehen markieren.",
  },
  "notify.to.*.takes": {
    what: "Das am wenigsten Dringende, das hier gemeldet wird: wake, tell oder today.",
  },
  "notify.to.*.turn": {
    what: "second: bekommt nur, was weckt, und nur, wenn die erste Person es nicht gesehen hat.",
  },
  "notify.to.*.quiet": {
    what: "Stunden, in denen hier nur gemeldet wird, was weckt; der Rest wartet bis zu ihrem Ende.",
  },
  "notify.to.*.quiet.from": { what: "Ihr Anfang, in der Zeit des Hauses." },
  "notify.to.*.quiet.to": { what: "Ihr Ende." },
  "notify.to.*.language": {
    what: "Die Sprache der Nachrichten dort: en oder de.",
    otherwise: "die von notify",
  },
  "notify.to.*.mail": { what: "Eine E-Mail-Adresse." },
  "notify.to.*.webhook": {
    what: "Eine Adresse, an die jede Nachricht geschickt wird, als unterschriebenes JSON oder in eigener Form.",
  },
  "notify.to.*.webhook.url": {
    what: "Die Adresse; {secret:NAME} hinter dem Rechnernamen steht für das, was niemand hier lesen darf.",
  },
  "notify.to.*.webhook.form": {
    what: "json, unterschrieben mit dem Geheimnis webhook-NAME; oder text, wie Push-Dienste es nehmen.",
  },
  "notify.to.*.webhook.body": {
    what: "Der Inhalt der Textform: {title}, {text}, {whole}, {attention}, {priority}, {link}.",
  },
  "notify.to.*.webhook.headers": {
    what: "Kopfzeilen, mit denselben Wörtern in Klammern, und {secret:NAME} für das, was niemand hier lesen darf.",
  },
  "notify.to.*.webhook.priority": { what: "Wofür {priority} steht." },
  "notify.to.*.webhook.priority.wake": { what: "Für das, was weckt." },
  "notify.to.*.webhook.priority.tell": { what: "Für das, was sofort gemeldet wird." },
  "notify.to.*.webhook.priority.today": { what: "Für die Morgenliste." },
  "notify.to.*.webhook.allow_private": {
    what: "Eine Adresse dieses Rechners oder Netzes ist beabsichtigt; sonst wird sie abgewiesen.",
  },
  "notify.to.*.mqtt": { what: "Jede Nachricht auf dem Topic gateway/calls des Brokers." },
  "notify.to.*.sounder": {
    what: "Ein Signalgeber dieser Datei: Er ertönt, bis der Alarm gesehen ist.",
  },
  "notify.heartbeat": {
    what: "Ein Lebenszeichen, solange und nur solange das Gateway urteilt: Wer es erwartet, bemerkt, wenn es ausbleibt.",
  },
  "notify.heartbeat.get": {
    what: "Eine Adresse, die jedes Mal abgerufen wird; {secret:NAME} hinter dem Rechnernamen steht für das, was niemand hier lesen darf.",
  },
  "notify.heartbeat.mqtt": { what: "Gesendet auf dem Topic gateway/heartbeat des Brokers." },
  "notify.heartbeat.every": { what: "Wie oft." },
  "notify.heartbeat.allow_private": {
    what: "Eine Adresse dieses Rechners oder Netzes ist beabsichtigt; sonst wird sie abgewiesen.",
  },
  expects: {
    what: "Lebenszeichen von anderen, die kommen müssen (POST /api/heartbeats/NAME): Bleibt eines aus, wird es gemeldet.",
  },
  "expects.*.title": { what: "Wie Nachrichten es nennen.", otherwise: titled },
  "expects.*.every": { what: "Wie oft es kommt." },
};
