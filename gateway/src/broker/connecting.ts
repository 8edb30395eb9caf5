import { randomUUID } from "node:crypto";
import type { AedesOptions, AuthenticateError, Client } from "aedes";
import { refusedAlready } from "./connection-faults.ts";
import type { Shared } from "./shared.ts";
import { type ConnackCode, createSignIn } from "./sign-in.ts";

function connackError(returnCode: ConnackCode, message: string): AuthenticateError {
  return Object.assign(refusedAlready(message), { returnCode }) as unknown as AuthenticateError;
}

/** What the broker library asks when somebody connects. Every refusal gets a CONNACK. */
export function createConnecting(shared: Shared) {
  const { components, connections, intake, connectionOf, isStopping } = shared;
  const { journal, credentials, now, onRefused } = components;
  const signIn = createSignIn(credentials, now);

  /** Null when it may go on, else why not. */
  async function check(client: Client, name: string, password: Uint8Array | undefined) {
    if (isStopping()) return connackError(3, "The gateway is stopping.");
    // A disk that takes nothing: a node that keeps its packs until there is room loses none of them.
    if (journal.trouble !== null) return connackError(3, "Nothing can be stored now: try again later.");
    const connection = connectionOf(client);
    if (!connection) return connackError(3, "The connection is gone.");
    const signedIn = await signIn(connection.address, name, password);
    if (!signedIn.ok) {
      if (signedIn.code) onRefused(signedIn.code, signedIn.node, signedIn.detail);
      return connackError(signedIn.returnCode, "Sign-in refused.");
    }
    if (connection.socket.destroyed) return connackError(3, "The connection is gone.");
    const replaced = connections.signedIn(connection, name, signedIn.secret);
    connection.guard.signedIn();
    intake.join(name, connection.guard);
    if (replaced) {
      onRefused("connection-replaced", name, replaced.address);
      replaced.socket.destroy();
    }
    return null;
  }

  const before: NonNullable<AedesOptions["preConnect"]> = (_client, packet, callback) => {
    // A node's own space of client ids: none can take another's session over, or keep its id from it.
    packet.clientId = `${packet.username ?? ""}/${packet.clientId || randomUUID()}`;
    // No stored sessions: what would be kept for a node that is away is its last few requests, which it must not get late.
    packet.clean = true;
    callback(null, true);
  };
  const authenticate: NonNullable<AedesOptions["authenticate"]> = (client, username, password, callback) => {
    check(client, username ?? "", password).then(
      (refused) => callback(refused, refused === null),
      () => callback(connackError(3, "Sign-in is not possible now."), false),
    );
  };
  return { before, authenticate };
}
