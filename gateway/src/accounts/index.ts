export { AccountError, type AccountErrorCode } from "./account-error.ts";
export type { AuditEntry } from "./accounts-database.ts";
export { type Attempts, createAttempts } from "./attempts.ts";
export type { NodeCredentials } from "./node-credentials.ts";
export { type Accounts, openAccounts } from "./open-accounts.ts";
export { type People, type Person, shortestPassword } from "./people.ts";
export { byOf, type Role, roles, type Who } from "./role.ts";
export { idleMs, longestMs, type Sessions } from "./sessions.ts";
export type { Token, Tokens } from "./tokens.ts";
