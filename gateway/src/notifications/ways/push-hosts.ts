import { isIP } from "node:net";
import { isPrivateAddress } from "./private-address.ts";

/**
 * Push services of the browsers that are in use; each also with names under it. From memory, as their vendors publish them
 * for firewalls; a house names others in its line file (`notify.push_hosts`).
 */
const known: readonly string[] = [
  "fcm.googleapis.com",
  "push.services.mozilla.com",
  "push.apple.com",
  "notify.windows.com",
];

/** Whether a device may be reached at that address: https, a push service that somebody named, or, on purpose, the own network. */
export function isPushService(endpoint: string, named: readonly string[], inside: boolean): boolean {
  if (!URL.canParse(endpoint)) return false;
  const { protocol, hostname, username, password } = new URL(endpoint);
  if (username !== "" || password !== "") return false;
  if (protocol !== "https:" && !(inside && protocol === "http:")) return false;
  const bare = hostname.replace(/^\[|\]$/g, "");
  if (inside && isIP(bare) !== 0) return isPrivateAddress(bare);
  return [...known, ...named].some((host) => bare === host || bare.endsWith(`.${host}`));
}
