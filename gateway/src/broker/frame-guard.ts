import type { Socket } from "node:net";
import type { FastLane } from "./fast-lane.ts";

/** Control packet types that are told apart here (MQTT 3.1.1 §2.2.1). */
const connectType = 1;
const publishType = 3;
const subscribeType = 8;
const unsubscribeType = 10;

/**
 * Largest MQTT frame, bytes of its remaining length: before sign-in, after it, and of filters, which cost most for each byte.
 * A longer PUBLISH up to the last is passed over where a lane does that.
 */
const frameLimits = {
  beforeSignIn: 2 * 1024,
  afterSignIn: 64 * 1024 + 512,
  filters: 2 * 1024,
  passedOver: 1024 * 1024,
} as const;

/** Longest frame that a signed-in client's library gets, with its header, bytes. */
export const longestFrame = frameLimits.afterSignIn + 4;

/** A frame that ends its connection. */
export interface BadFrame {
  /** Of its remaining length; null where the header is none. */
  readonly bytes: number | null;
  /** It is a CONNECT, which may be answered. */
  readonly isConnect: boolean;
}

/** Follows the frames of one connection without copying, and can hold back its reading. */
export interface FrameGuard {
  /** Lifts the limit to that of signed-in clients. */
  signedIn(): void;
  /** The CONNECT has its answer: what came behind it is read from now on. */
  answered(): void;
  /** From now on the lane is asked first what goes to the broker. */
  useLane(lane: FastLane): void;
  /** Stops giving bytes to the broker: they stay in the socket, and the sender is slowed by TCP. */
  hold(): void;
  release(): void;
}

/** Counts fixed headers (MQTT 3.1.1 §2.2) in what was read. */
class FrameCounter {
  private skip = 0;
  private shift = -1;
  private length = 0;
  private type = 0;
  private limit: number = frameLimits.beforeSignIn;

  /** Whether a whole frame went through. */
  hasFrame = false;

  /** Bytes to come of the frame that was begun; null in the middle of its header. */
  get left(): number | null {
    return this.shift < 0 ? this.skip : null;
  }

  signedIn(): void {
    this.limit = frameLimits.afterSignIn;
  }

  /** Who comes behind passes over what it can't take. */
  passesOver = false;

  private limitOfType(): number {
    if (this.passesOver && this.type === publishType) return frameLimits.passedOver;
    const isOfFilters = this.type === subscribeType || this.type === unsubscribeType;
    return isOfFilters ? Math.min(this.limit, frameLimits.filters) : this.limit;
  }

  /** The first frame that can't be taken; null when there is none. */
  take(chunk: Uint8Array): BadFrame | null {
    let index = 0;
    while (index < chunk.length) {
      if (this.skip > 0) {
        const step = Math.min(this.skip, chunk.length - index);
        this.skip -= step;
        index += step;
        if (this.skip === 0) this.hasFrame = true;
        continue;
      }
      const byte = chunk[index] as number;
      index += 1;
      if (this.shift < 0) {
        this.type = byte >> 4;
        this.shift = 0;
        this.length = 0;
        continue;
      }
      this.length += (byte & 0x7f) * 2 ** this.shift;
      this.shift += 7;
      const isConnect = this.type === connectType;
      if (this.length > this.limitOfType()) return { bytes: this.length, isConnect };
      if ((byte & 0x80) !== 0) {
        if (this.shift >= 28) return { bytes: null, isConnect };
        continue;
      }
      this.skip = this.length;
      this.shift = -1;
      if (this.skip === 0) this.hasFrame = true;
    }
    return null;
  }
}

/**
 * Puts the guard between a socket and the broker, which has no limit of its own: a frame over the limit never reaches it.
 * `onBad` is told, once, and ends the connection. What comes behind a CONNECT waits in the socket for its answer: the
 * broker's library would take it before it knows who sent it.
 */
export function guardFrames(socket: Socket, onBad: (frame: BadFrame) => void): FrameGuard {
  const read = socket.read.bind(socket);
  const counter = new FrameCounter();
  let held = false;
  let ended = false;
  let isAnswered = false;
  let lane: FastLane | null = null;
  /** Whether the lane has begun: at the end of a frame. */
  let isInLane = false;
  const forBroker = (chunk: Buffer, left: number | null): Buffer | null => {
    if (lane === null || (!isInLane && (left === null || left >= chunk.length))) return chunk;
    const begun = isInLane ? 0 : (left ?? 0);
    isInLane = true;
    return lane.take(chunk, begun);
  };
  const isWaiting = () => held || (counter.hasFrame && !isAnswered);
  /** The broker reads on "readable" only; what came meanwhile waits in the socket's own buffer. */
  const goOn = () => {
    if (!isWaiting() && !socket.destroyed) socket.emit("readable");
  };
  socket.read = (size?: number) => {
    // The socket gives a piece at a time: where the lane took all of one, the next one may be there already.
    while (!ended && !isWaiting()) {
      const chunk = read(size) as Buffer | null;
      if (chunk === null) return null;
      const { left } = counter;
      const bad = counter.take(chunk);
      if (bad !== null) {
        ended = true;
        onBad(bad);
        return null;
      }
      const given = forBroker(chunk, left);
      if (given !== null) return given;
    }
    return null;
  };
  return {
    signedIn: () => counter.signedIn(),
    answered() {
      if (isAnswered) return;
      isAnswered = true;
      goOn();
    },
    useLane(given) {
      lane = given;
      counter.passesOver = true;
    },
    hold() {
      held = true;
    },
    release() {
      if (!held) return;
      held = false;
      goOn();
    },
  };
}
