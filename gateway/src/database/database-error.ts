/** Names of what can be wrong with a file at its opening. */
export type DatabaseErrorCode = "database-newer" | "database-not-readable";

/** A file can't be used; the message says which one and what to do. */
export class DatabaseError extends Error {
  readonly code: DatabaseErrorCode;
  constructor(code: DatabaseErrorCode, message: string) {
    super(message);
    this.name = "DatabaseError";
    this.code = code;
  }
}
