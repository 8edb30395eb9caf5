import type { Socket } from "node:net";
import { originOf } from "../accounts/index.ts";

/** How many connections are open at once. */
export interface AdmissionLimits {
  /** In all. */
  readonly max: number;
  /** Of nobody yet: no node has signed in on it, no person has asked. The rest is kept for those who are known. */
  readonly maxUnknown: number;
}

interface Guest {
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
  /** Takes a new connection in; may end another. False: every place is held by somebody known, and this one was ended. */
  enter(socket: Socket): boolean;
  /** Somebody is known on it now, and it no longer counts among the unknown. */
  know(socket: Socket): void;
  /** Whether it is in the middle of something. */
  setBusy(socket: Socket, busy: boolean): void;
  size(): number;
}

/** `onRefused` is told the address of each connection that was ended for want of a place. */
export function createAdmission(limits: AdmissionLimits, onRefused: (address: string) => void): Admission {
  const guests = new Map<Socket, Guest>();
  /** Unknown ones by origin, the longest there first. */
  const unknown = new Map<string, Set<Socket>>();
  let unknownCount = 0;

  function leaveUnknown(socket: Socket, { origin }: Guest): void {
    const ofOrigin = unknown.get(origin);
    if (!ofOrigin?.delete(socket)) return;
    unknownCount -= 1;
    if (ofOrigin.size === 0) unknown.delete(origin);
  }

  function leave(socket: Socket): void {
    const guest = guests.get(socket);
    if (!guest) return;
    guests.delete(socket);
    leaveUnknown(socket, guest);
  }

  /** The unknown one to end: idle before busy, the longest there first, of the origin that holds the most. */
  function leastEntitled(): Socket | null {
    let crowd: Set<Socket> | null = null;
    for (const ofOrigin of unknown.values()) if (ofOrigin.size > (crowd?.size ?? 0)) crowd = ofOrigin;
    if (!crowd) return null;
    for (const socket of crowd) if (!guests.get(socket)?.busy) return socket;
    return crowd.values().next().value ?? null;
  }

  function end(socket: Socket, origin: string): void {
    leave(socket);
    onRefused(origin);
    socket.destroy();
  }

  return {
    enter(socket) {
      const origin = originOf(socket.remoteAddress ?? "");
      while (unknownCount >= limits.maxUnknown || guests.size >= limits.max) {
        const ended = leastEntitled();
        if (!ended) {
          end(socket, origin);
          return false;
        }
        end(ended, guests.get(ended)?.origin ?? "");
      }
      const guest: Guest = { origin, known: false, busy: false };
      guests.set(socket, guest);
      const ofOrigin = unknown.get(origin) ?? new Set();
      unknown.set(origin, ofOrigin.add(socket));
      unknownCount += 1;
      socket.once("close", () => leave(socket));
      return true;
    },
    know(socket) {
      const guest = guests.get(socket);
      if (!guest || guest.known) return;
      guest.known = true;
      leaveUnknown(socket, guest);
    },
    setBusy(socket, busy) {
      const guest = guests.get(socket);
      if (guest) guest.busy = busy;
    },
    size: () => guests.size,
  };
}
