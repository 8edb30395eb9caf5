import type { NotificationsView } from "@drumlin/gateway/contract";

const hour = 3_600_000;
const ago = (ms: number) => new Date(Date.now() - ms).toISOString();
const destination = {
  person: "Mara",
  takes: "tell",
  turn: "first",
  quiet: null,
  language: "en",
  lastSentAt: ago(2 * hour),
  lastFailedAt: null,
  error: null,
  failing: false,
  waiting: 0,
} as const;
/** Four destinations: one well, one that fails, a device, a sounder. */
export const destinations: NotificationsView = {
  destinations: [
    { ...destination, id: "mara", title: "Mara's mail", way: "mail", to: "mara@example.org" },
    {
      ...destination,
      id: "relay",
      title: "Relay",
      way: "webhook",
      to: "relay.example:8443",
      person: null,
      language: "de",
      lastFailedAt: ago(hour),
      error: "The certificate of relay.example can't be trusted (DEPTH_ZERO_SELF_SIGNED_CERT).",
      failing: true,
      waiting: 3,
    },
    {
      ...destination,
      id: "device-7",
      title: "keeper's device",
      way: "device",
      to: "push.example.org",
      person: "keeper",
      takes: "wake",
      quiet: { from: "22:00", to: "06:00" },
    },
    {
      ...destination,
      id: "horn",
      title: "Hall horn",
      way: "sounder",
      to: "hall",
      person: null,
      turn: "second",
    },
  ],
  policy: { wakeAgain: 5, secondAfter: 10, tellAgain: 60, today: "07:30", page: "https://house.example" },
  pushKey: "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4",
  life: { asked: true, lastAt: ago(30_000), error: null },
};
/** What was told: one message waits, one was sent. */
export const told = {
  items: [
    {
      id: "m-2",
      destination: "relay",
      title: "After resin: letting salts through and 2 more",
      madeAt: ago(hour),
      state: "waiting",
      settledAt: null,
      tries: 7,
      error: "Nobody listens at relay.example.",
    },
    {
      id: "m-1",
      destination: "mara",
      title: "After resin: letting salts through",
      madeAt: ago(2 * hour),
      state: "sent",
      settledAt: ago(2 * hour),
      tries: 1,
      error: null,
    },
  ],
  next: null,
};
