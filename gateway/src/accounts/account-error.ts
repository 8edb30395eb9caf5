/** What the accounts refuse by name. */
export type AccountErrorCode =
  | "name-not-usable"
  | "name-taken"
  | "password-not-usable"
  | "person-unknown"
  | "token-unknown"
  | "node-unknown"
  | "last-operator"
  | "set-up-done"
  | "set-up-code-wrong"
  | "sign-in-wrong"
  | "too-many-sign-ins"
  | "sign-in-busy"
  | "accounts-full"
  | "accounts-not-written";

/** A refusal of the accounts with its stable code; the message says what is expected. */
export class AccountError extends Error {
  readonly code: AccountErrorCode;
  /** Seconds after which it is worth trying again; null when waiting does not help. */
  readonly retryAfterS: number | null;
  constructor(code: AccountErrorCode, message: string, retryAfterS: number | null = null) {
    super(message);
    this.code = code;
    this.retryAfterS = retryAfterS;
  }
}
