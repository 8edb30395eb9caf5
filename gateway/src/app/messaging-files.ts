import { existsSync } from "node:fs";
import { join } from "node:path";
import type { DatabaseSync } from "node:sqlite";
import { isBare, openOrRenew } from "../database/index.ts";
import { migrations, type Secrets, type VapidKeys, vapidKeys } from "../notifications/index.ts";
import { faultWords } from "./parts/renewal.ts";

const fileName = "notifications.sqlite";
const keyName = "vapid-key";
const subscribeAgain = "pages that were told have to be added again";

/** What the opening of the files found wrong, in plain words. */
type Tell = (text: string) => void;

/** Whether messages were kept in this folder before: either of the two files tells for the other. */
export function hadMessages(data: string): { readonly file: boolean; readonly key: boolean } {
  return { file: !isBare(join(data, fileName)), key: existsSync(join(data, "secrets", keyName)) };
}

/** The file of messages; what can't be read of it is gone, and said. */
export function openMessages(
  data: string,
  nowMs: number,
  had: { readonly key: boolean },
  tell: Tell,
): DatabaseSync {
  return openOrRenew(join(data, fileName), migrations, {
    nowMs,
    beforeRenewal(fault) {
      if (fault.why === "missing" && !had.key) return;
      const lost = fault.isWhole ? "" : `; messages that waited are told no more, and ${subscribeAgain}`;
      tell(`${fileName} ${faultWords(fault)}${lost}`);
    },
  });
}

/** The keys for push services; where the kept ones are of no use others take their place, at worst until the next start. */
export function openKeys(
  secrets: Secrets,
  nowMs: number,
  had: { readonly file: boolean; readonly key: boolean },
  tell: Tell,
): VapidKeys {
  if (had.file && !had.key)
    tell(`secrets/${keyName} was missing or empty; a new one is made: ${subscribeAgain}`);
  try {
    return vapidKeys(secrets);
  } catch {
    const time = new Date(nowMs).toISOString().slice(0, 19).replaceAll(/[-:]/g, "");
    try {
      secrets.setAside(keyName, `damaged-${time}Z`);
      const keys = vapidKeys(secrets);
      tell(`secrets/${keyName} can't be used and is set aside; a new one is made: ${subscribeAgain}`);
      return keys;
    } catch {
      tell(`secrets/${keyName} can't be used, nor can another be kept; one is made until the next start`);
      return vapidKeys({ getOrMake: (_name, make) => make?.() ?? "" });
    }
  }
}
