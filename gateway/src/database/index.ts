export { DatabaseError, type DatabaseErrorCode } from "./database-error.ts";
export { isDiskFault } from "./disk-fault.ts";
export { type Migration, openDatabase } from "./open-database.ts";
export { isBare, openOrRenew, type RenewSettings } from "./open-or-renew.ts";
export { inTransaction } from "./transaction.ts";
