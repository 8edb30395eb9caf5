import { ofAccounts } from "./codes/accounts-codes.ts";
import { ofBroker } from "./codes/broker-codes.ts";
import { ofHttp } from "./codes/http-codes.ts";
import { ofInflux } from "./codes/influx-codes.ts";
import { ofPacks } from "./codes/packs-codes.ts";

export type { CodeText } from "./codes/code-text.ts";

/** German of every stable code of the gateway; that none is missing is held where the codes come together (`http`). */
export const codes = { ...ofPacks, ...ofBroker, ...ofInflux, ...ofAccounts, ...ofHttp };
