import type { AccountErrorCode } from "../accounts/index.ts";

/** Refusals of the accounts, as HTTP answers them. */
export const ofAccounts = {
  "name-not-usable": {
    status: 400,
    title: "The name can't be used",
    todo: "The detail says which letters it may have.",
  },
  "name-taken": {
    status: 409,
    title: "The name is taken",
    todo: "Choose another, or remove the other one first.",
  },
  "password-not-usable": {
    status: 400,
    title: "The password can't be used",
    todo: "Take a longer one that nobody guesses early: a few words are good.",
  },
  "person-unknown": { status: 404, title: "There is no such person", todo: "GET /api/people lists them." },
  "token-unknown": { status: 404, title: "There is no such token", todo: "GET /api/tokens lists them." },
  "node-unknown": {
    status: 404,
    title: "No such node may sign in",
    todo: "drumlin node list shows those that may.",
  },
  "last-operator": {
    status: 409,
    title: "The last operator can't be removed",
    todo: "Make another operator first.",
  },
  "set-up-done": { status: 409, title: "The first account exists already", todo: "Sign in with it." },
  "set-up-code-wrong": {
    status: 403,
    title: "That code isn't right",
    todo: "It changes at each start: use the newest.",
  },
  "sign-in-wrong": {
    status: 401,
    title: "Name or password is wrong",
    todo: "Try again; an operator can give a new password: drumlin user password NAME.",
  },
  "too-many-sign-ins": {
    status: 429,
    title: "Too many tries",
    todo: "Wait as long as Retry-After says.",
  },
  "sign-in-busy": { status: 503, title: "Too many people sign in at once", todo: "Try again in a moment." },
  "accounts-full": {
    status: 409,
    title: "No room for another account",
    todo: "Remove one nobody uses.",
  },
  "accounts-not-written": {
    status: 503,
    title: "The disk does not take the change",
    todo: "Make room on the gateway's disk, or look at its health; then try again. Signing in goes on meanwhile.",
  },
} as const satisfies Record<AccountErrorCode, unknown>;
