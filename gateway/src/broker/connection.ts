import type { Socket } from "node:net";
import type { Answers } from "./answers.ts";
import type { FrameGuard } from "./frame-guard.ts";

/** One connection to the embedded broker. */
export interface Connection {
  readonly socket: Socket;
  readonly guard: FrameGuard;
  readonly address: string;
  /** Who signed in on it. */
  node: string | null;
  /** What tells the secret it signed in with from every other one. */
  secret: string | null;
  /** What its packets are answered with, in their order. */
  readonly answers: Answers;
  /** Topics that were found to be its node's to publish: looked at once, since the same come again and again. */
  readonly ownTopics: Set<string>;
  /** Filters that it has subscribed to. */
  readonly filters: Set<string>;
}

/** Connections of one node at once; a device that lost its network leaves a half-open one behind. */
const maxOfNode = 4;

/** Every open connection, and those of each node in the order of their sign-in. */
export class Connections {
  readonly open = new Set<Connection>();
  /** Told when somebody is known on a connection. */
  onSignedIn: (connection: Connection) => void = () => {};
  private readonly ofNode = new Map<string, Set<Connection>>();

  /** A node signed in; gives the connection that must go when it now has more than four: its oldest. */
  signedIn(connection: Connection, node: string, secret: string | null): Connection | null {
    connection.node = node;
    connection.secret = secret;
    const own = this.ofNode.get(node) ?? new Set();
    this.ofNode.set(node, own.add(connection));
    this.onSignedIn(connection);
    return own.size > maxOfNode ? (own.values().next().value ?? null) : null;
  }

  closed(connection: Connection): void {
    this.open.delete(connection);
    if (connection.node === null) return;
    const own = this.ofNode.get(connection.node);
    own?.delete(connection);
    if (own?.size === 0) this.ofNode.delete(connection.node);
  }

  /** Whether a node has another connection than this one: then what this one leaves behind says nothing of the node. */
  hasOther(connection: Connection): boolean {
    const own = connection.node === null ? undefined : this.ofNode.get(connection.node);
    if (!own) return false;
    return own.size > (own.has(connection) ? 1 : 0);
  }

  nodes(): readonly string[] {
    return [...this.ofNode.keys()];
  }
}
