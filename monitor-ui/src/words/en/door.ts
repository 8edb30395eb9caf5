/** Sign-in and the first account; links in messages. */
export const door = {
  signIn: "Sign in",
  signOut: "Sign out",
  withoutTls:
    "This page came without TLS. Anyone on this network can read what you type. That was chosen on purpose, for a network you trust.",
  firstAccount: "The first account",
  makeAccount: "Make the account",
  untilExists:
    "Until it exists nobody can change anything, and only this machine can look. You can add others later.",
  code: "Set-up code",
  codeHint: "Four groups of four, from the terminal or the log of the gateway's last start.",
  passwordHint: "At least 10 characters. A sentence is good.",
  seenTitle: "Have you seen it?",
  endedMeanwhile: "That alarm has ended meanwhile.",
  thisAlarm: "this alarm",
  looking: "Looking…",
  yesSeen: "Yes, I've seen it",
  seenUndo: "For 10 min you can undo it under “Alarms”.",
  allAlarms: "All alarms",
} as const;
