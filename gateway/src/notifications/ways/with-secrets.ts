import { hostOfUrl } from "../secret-hosts.ts";
import { isOwnSecret, SecretError, type Secrets } from "../secrets.ts";

const named = /\{secret:([a-z0-9-]+)\}/g;

/**
 * A text that goes to `host` with `{secret:NAME}` filled in. Throws SecretError where there is none, where it was given for
 * another host, or where it is the gateway's own.
 */
export const withSecrets = (
  template: string,
  secrets: Pick<Secrets, "getFor">,
  host: string,
  written: (secret: string) => string = (secret) => secret,
): string =>
  template.replaceAll(named, (_whole, name: string) => {
    // Who may edit the line file may not have the mail's password sent to an address of their own.
    if (isOwnSecret(name))
      throw new SecretError(`The secret ${name} is the gateway's own: it is sent to nobody else.`);
    return written(secrets.getFor(name, host));
  });

/** An address with `{secret:NAME}` filled in behind its host, as one part of the path or query each. */
export function addressWithSecrets(url: string, secrets: Pick<Secrets, "getFor">): string {
  const filled = withSecrets(url, secrets, hostOfUrl(url), encodeURIComponent);
  if (filled !== url && new URL(filled).origin !== new URL(url).origin)
    throw new SecretError("A secret does not belong into the name of a host.");
  return filled;
}
