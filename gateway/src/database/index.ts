export { copyReadable, copyWhole, type Unread, unreadMark } from "./copy-readable.ts";
export { DatabaseError, type DatabaseErrorCode } from "./database-error.ts";
export { isDamage, isDiskFault } from "./disk-fault.ts";
export {
  type Guest,
  type GuestRequest,
  Guests,
  type NotTakenIn,
  type ServeGuest,
  sendGuest,
  type TakeIn,
} from "./guests.ts";
export { lengthen } from "./lengthen.ts";
export { intoOneFile } from "./one-file.ts";
export { type Migration, openDatabase } from "./open-database.ts";
export { type FileFault, isBare, openOrRenew, type RenewSettings } from "./open-or-renew.ts";
export { asideOf, claimFile, moveFile } from "./own-file.ts";
export { inTransaction } from "./transaction.ts";
