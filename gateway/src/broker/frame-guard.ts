import type { Socket } from "node:net";

/** Largest MQTT frame before and after sign-in, bytes of its remaining length. */
const frameLimits = { beforeSignIn: 2 * 1024, afterSignIn: 64 * 1024 + 512 } as const;

/** Follows the frames of one connection without copying, and can hold back its reading. */
export interface FrameGuard {
  /** Lifts the limit to that of signed-in clients. */
  signedIn(): void;
  /** Stops giving bytes to the broker: they stay in the socket, and the sender is slowed by TCP. */
  hold(): void;
  release(): void;
}

/** Counts fixed headers (MQTT 3.1.1 §2.2) in what was read. */
class FrameCounter {
  private skip = 0;
  private shift = -1;
  private length = 0;

  /** The length of a frame that is over `limit`, or null; -1 for a header that is none. */
  take(chunk: Uint8Array, limit: number): number | null {
    let place = 0;
    while (place < chunk.length) {
      if (this.skip > 0) {
        const step = Math.min(this.skip, chunk.length - place);
        this.skip -= step;
        place += step;
        continue;
      }
      const byte = chunk[place] as number;
      place += 1;
      if (this.shift < 0) {
        this.shift = 0;
        this.length = 0;
        continue;
      }
      this.length += (byte & 0x7f) * 2 ** this.shift;
      this.shift += 7;
      if (this.length > limit) return this.length;
      if ((byte & 0x80) !== 0) {
        if (this.shift >= 28) return -1;
        continue;
      }
      this.skip = this.length;
      this.shift = -1;
    }
    return null;
  }
}

/**
 * Puts the guard between a socket and the broker, which has no limit of its own: a frame over the limit ends the
 * connection before it is buffered. `onTooLong` is told its length.
 */
export function guardFrames(socket: Socket, onTooLong: (bytes: number) => void): FrameGuard {
  const read = socket.read.bind(socket);
  const counter = new FrameCounter();
  let limit: number = frameLimits.beforeSignIn;
  let held = false;
  socket.read = (size?: number) => {
    if (held) return null;
    const chunk = read(size) as Uint8Array | null;
    if (chunk === null) return null;
    const tooLong = counter.take(chunk, limit);
    if (tooLong === null) return chunk;
    onTooLong(tooLong);
    socket.destroy();
    return null;
  };
  return {
    signedIn() {
      limit = frameLimits.afterSignIn;
    },
    hold() {
      held = true;
    },
    release() {
      if (!held) return;
      held = false;
      // The broker reads on "readable" only; what came meanwhile waits in the socket's own buffer.
      if (!socket.destroyed) socket.emit("readable");
    },
  };
}
