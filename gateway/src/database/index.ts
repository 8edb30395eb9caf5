export { DatabaseError, type DatabaseErrorCode } from "./database-error.ts";
export { type Migration, openDatabase } from "./open-database.ts";
export { inTransaction } from "./transaction.ts";
