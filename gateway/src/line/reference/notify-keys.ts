import type { KeyTexts } from "./key-text.ts";

const duration = "s, min, h or d; the unit must be written";

/** Keys of this part of the file, each with its text. */
export const notifyKeys: KeyTexts = [
  [
    "notify",
    {
      what: "Who is told when something is wrong, and how. Passwords and keys never stand here: they are files in the folder secrets.",
      example: "notify: { to: { house: { mqtt: calls } } }",
    },
  ],
  [
    "notify.page",
    {
      what: "The address at which people reach the page; messages link there.",
      otherwise: "messages carry no link",
      example: "page: https://house.example",
    },
  ],
  [
    "notify.language",
    { what: "The language of messages: en or de.", otherwise: "en", example: "language: de" },
  ],
  ["notify.wake", { what: "What wakes somebody.", example: "wake: { again: 5 min }" }],
  [
    "notify.wake.again",
    {
      what: "How long until it is told again, for as long as nobody has seen it.",
      unit: duration,
      otherwise: "5 min",
      example: "again: 5 min",
    },
  ],
  [
    "notify.wake.second_after",
    {
      what: "How long it may stay unseen before the second person is told.",
      unit: duration,
      otherwise: "10 min",
      example: "second_after: 10 min",
    },
  ],
  ["notify.tell", { what: "What is told at once, without waking.", example: "tell: { again: 1 h }" }],
  [
    "notify.tell.again",
    {
      what: "How long it may stay unseen before it is told once more.",
      unit: duration,
      otherwise: "1 h",
      example: "again: 1 h",
    },
  ],
  [
    "notify.today",
    {
      what: "When the morning list goes out, where there is something on it.",
      otherwise: "07:30",
      example: 'today: "07:30"',
    },
  ],
  [
    "notify.mail",
    {
      what: "The server that takes mail. Its password is the secret smtp-password; it goes only to the server for which it was given: after another one is named, write it anew.",
      example: "mail: { server: mail.example.org, user: drumlin, from: drumlin@example.org }",
    },
  ],
  ["notify.mail.server", { what: "Its name.", example: "server: mail.example.org" }],
  [
    "notify.mail.port",
    { what: "Its port.", otherwise: "587; 465 with tls, 25 with none", example: "port: 587" },
  ],
  [
    "notify.mail.security",
    {
      what: "How the way there is made safe; none only on a network of your own.",
      example: "security: tls",
    },
  ],
  [
    "notify.mail.user",
    { what: "The user name to sign in with.", otherwise: "no sign-in", example: "user: drumlin" },
  ],
  ["notify.mail.from", { what: "Whom mail comes from.", example: "from: drumlin@example.org" }],
  [
    "notify.push_hosts",
    {
      what: "Hosts of push services besides those of the usual browsers: devices are reached nowhere else.",
      otherwise: "the usual ones alone",
      example: "push_hosts: [push.example.org]",
    },
  ],
  [
    "notify.to",
    { what: "Destinations, by name. Each has one way.", example: "to: { house: { mqtt: calls } }" },
  ],
  [
    "notify.to.*.title",
    { what: "What pages call it.", otherwise: "made from the name", example: "title: Mara's mail" },
  ],
  [
    "notify.to.*.person",
    {
      what: "Whose it is: the name of their account. They can mark an alarm as seen from the message.",
      example: "person: mara",
    },
  ],
  ["notify.to.*.takes", { what: "The least urgent that is told here.", example: "takes: wake" }],
  [
    "notify.to.*.turn",
    {
      what: "Second: told only what wakes, and only when the first has not seen it.",
      example: "turn: second",
    },
  ],
  [
    "notify.to.*.quiet",
    {
      what: "Hours in which only what wakes is told here; the rest waits for their end.",
      example: 'quiet: { from: "22:00", to: "06:00" }',
    },
  ],
  ["notify.to.*.quiet.from", { what: "When they begin, in the site's zone.", example: 'from: "22:00"' }],
  ["notify.to.*.quiet.to", { what: "When they end.", example: 'to: "06:00"' }],
  [
    "notify.to.*.language",
    {
      what: "The language of messages there: en or de.",
      otherwise: "the one of notify",
      example: "language: de",
    },
  ],
  ["notify.to.*.mail", { what: "An e-mail address.", example: "mail: mara@example.org" }],
  [
    "notify.to.*.webhook",
    {
      what: "An address that each message is posted to, as signed JSON or in a form of your own.",
      example: 'webhook: { url: "https://relay.example/house", form: text }',
    },
  ],
  [
    "notify.to.*.webhook.url",
    {
      what: "The address; {secret:NAME} behind the host stands for what nobody may read here.",
      example: 'url: "https://relay.example/{secret:relay-topic}"',
    },
  ],
  [
    "notify.to.*.webhook.form",
    {
      what: "json, signed with the secret webhook-NAME; or text, as push relays take it.",
      example: "form: text",
    },
  ],
  [
    "notify.to.*.webhook.body",
    {
      what: "The text form's body: {title}, {text}, {whole}, {attention}, {priority}, {link}.",
      otherwise: '"{text}"',
      example: 'body: "{title}: {text}"',
    },
  ],
  [
    "notify.to.*.webhook.headers",
    {
      what: "Headers, with the same words in braces, and {secret:NAME} for what nobody may read here.",
      example: 'headers: { Title: "{title}", Authorization: "Bearer {secret:relay-token}" }',
    },
  ],
  [
    "notify.to.*.webhook.priority",
    {
      what: "What {priority} stands for.",
      otherwise: "urgent, high, default",
      example: "priority: { wake: urgent, tell: high, today: low }",
    },
  ],
  ["notify.to.*.webhook.priority.wake", { what: "For what wakes.", example: "wake: urgent" }],
  ["notify.to.*.webhook.priority.tell", { what: "For what is told at once.", example: "tell: high" }],
  ["notify.to.*.webhook.priority.today", { what: "For the morning list.", example: "today: low" }],
  [
    "notify.to.*.webhook.allow_private",
    {
      what: "An address on this machine or network is intended; otherwise it is refused.",
      example: "allow_private: true",
    },
  ],
  [
    "notify.to.*.mqtt",
    { what: "Each message is sent on the topic gateway/calls of the broker.", example: "mqtt: calls" },
  ],
  [
    "notify.to.*.sounder",
    { what: "A sounder of this file: it sounds until the alarm is seen.", example: "sounder: hall" },
  ],
  [
    "notify.heartbeat",
    {
      what: "A sign of life while, and only while, the gateway judges: whoever expects it notices when it stops.",
      example: 'heartbeat: { get: "https://watch.example/ping/7", every: 1 min }',
    },
  ],
  [
    "notify.heartbeat.get",
    {
      what: "An address that is asked for each time; {secret:NAME} behind the host stands for what nobody may read here.",
      example: 'get: "https://watch.example/ping/{secret:ping-key}"',
    },
  ],
  [
    "notify.heartbeat.mqtt",
    { what: "Sent on the topic gateway/heartbeat of the broker.", example: "mqtt: true" },
  ],
  [
    "notify.heartbeat.every",
    { what: "How often.", unit: duration, otherwise: "1 min", example: "every: 1 min" },
  ],
  [
    "notify.heartbeat.allow_private",
    {
      what: "An address on this machine or network is intended; otherwise it is refused.",
      example: "allow_private: true",
    },
  ],
  [
    "expects",
    {
      what: "Heartbeats that others must send (POST /api/heartbeats/NAME): one that fails to come is reported.",
      example: "expects: { copies: { every: 1 d } }",
    },
  ],
  [
    "expects.*.title",
    { what: "What messages call it.", otherwise: "made from the name", example: "title: Nightly copies" },
  ],
  ["expects.*.every", { what: "How often it comes.", unit: duration, example: "every: 1 d" }],
];
