import type { Socket } from "node:net";
import { originOf } from "../accounts/index.ts";

/**
 * Connections that wait to be taken in (listen(2); of Node 511). What is dropped beyond it tries again only after a second,
 * then two, four (RFC 6298 §2, tcp(7)): whoever means well then waits as long.
 */
export const queuedConnections = 1000;

/** How many connections are open at once. */
export interface AdmissionLimits {
  /** In all. */
  readonly max: number;
  /** Of nobody yet: no node has signed in on it, no person has asked. The rest is kept for those who are known. */
  readonly maxUnknown: number;
}

interface Guest {
  readonly socket: Socket;
  readonly origin: string;
  known: boolean;
  /** In the middle of something, such as a request: the last to be ended. */
  busy: boolean;
}

/**
 * Lets connections in so that nobody can take every place: when the places for unknown ones are taken, a new one gets that
 * of the unknown one that has been there longest, at the address that holds the most. A known one never makes room.
 */
export interface Admission {
  /** Takes a new TCP connection in; may end another. False: every place is held by somebody known, and this one was ended. */
  enter(socket: Socket): boolean;
  /** Somebody is known on it, or on the TLS connection over it, and it no longer counts among the unknown. */
  know(socket: Socket): void;
  /** Whether it, or the TLS connection over it, is in the middle of something. */
  setBusy(socket: Socket, busy: boolean): void;
  size(): number;
}

/** The far end, by which a TCP connection and the TLS over it are the same. */
const farEnd = ({ remoteAddress, remotePort }: Socket) => `${remoteAddress} ${remotePort}`;

/** `onRefused` is told the address of each connection that was ended for want of a place. */
export function createAdmission(limits: AdmissionLimits, onRefused: (address: string) => void): Admission {
  const guests = new Map<string, Guest>();
  /** Unknown ones by origin, the longest there first. */
  const unknown = new Map<string, Set<Guest>>();
  let unknownCount = 0;

  function leaveUnknown(guest: Guest): void {
    const ofOrigin = unknown.get(guest.origin);
    if (!ofOrigin?.delete(guest)) return;
    unknownCount -= 1;
    if (ofOrigin.size === 0) unknown.delete(guest.origin);
  }

  function leave(name: string, guest: Guest): void {
    if (guests.get(name) === guest) guests.delete(name);
    leaveUnknown(guest);
  }

  /** The unknown one to end: idle before busy, the longest there first, of the origin that holds the most. */
  function leastEntitled(): Guest | null {
    let crowd: Set<Guest> | null = null;
    for (const ofOrigin of unknown.values()) if (ofOrigin.size > (crowd?.size ?? 0)) crowd = ofOrigin;
    if (!crowd) return null;
    for (const guest of crowd) if (!guest.busy) return guest;
    return crowd.values().next().value ?? null;
  }

  /** Ends unknown ones until there is a place; false when none is left to end. */
  function makeRoom(): boolean {
    while (unknownCount >= limits.maxUnknown || guests.size >= limits.max) {
      const ended = leastEntitled();
      if (!ended) return false;
      leave(farEnd(ended.socket), ended);
      onRefused(ended.origin);
      ended.socket.destroy();
    }
    return true;
  }

  return {
    enter(socket) {
      const name = farEnd(socket);
      const guest: Guest = {
        socket,
        origin: originOf(socket.remoteAddress ?? ""),
        known: false,
        busy: false,
      };
      if (!makeRoom()) {
        onRefused(guest.origin);
        socket.destroy();
        return false;
      }
      guests.set(name, guest);
      const ofOrigin = unknown.get(guest.origin) ?? new Set();
      unknown.set(guest.origin, ofOrigin.add(guest));
      unknownCount += 1;
      socket.once("close", () => leave(name, guest));
      return true;
    },
    know(socket) {
      const guest = guests.get(farEnd(socket));
      if (!guest || guest.known) return;
      guest.known = true;
      leaveUnknown(guest);
    },
    setBusy(socket, busy) {
      const guest = guests.get(farEnd(socket));
      if (guest) guest.busy = busy;
    },
    size: () => guests.size,
  };
}
