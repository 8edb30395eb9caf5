import { isOwnSecret, SecretError, type Secrets } from "../secrets.ts";

const named = /\{secret:([a-z0-9-]+)\}/g;

/** A text with `{secret:NAME}` filled in. Throws SecretError where there is none, or where it is the gateway's own. */
export const withSecrets = (
  template: string,
  secrets: Secrets,
  written: (secret: string) => string = (secret) => secret,
): string =>
  template.replaceAll(named, (_whole, name: string) => {
    // Who may edit the line file may not have the mail's password sent to an address of their own.
    if (isOwnSecret(name))
      throw new SecretError(`The secret ${name} is the gateway's own: it is sent to nobody else.`);
    return written(secrets.get(name));
  });

/** An address with `{secret:NAME}` filled in behind its host, as one part of the path or query each. */
export function addressWithSecrets(url: string, secrets: Secrets): string {
  const filled = withSecrets(url, secrets, encodeURIComponent);
  if (filled !== url && new URL(filled).origin !== new URL(url).origin)
    throw new SecretError("A secret does not belong into the name of a host.");
  return filled;
}
