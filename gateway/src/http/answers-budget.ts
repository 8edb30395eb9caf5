import type { ServerResponse } from "node:http";
import type { Socket } from "node:net";
import type { ProblemCode } from "./problems.ts";

/** Requests of one connection that may be without their whole answer; browsers send one at a time. */
const maxUnfinished = 8;
/** Bytes of answers that nobody has read, over all connections; and how long one may leave them. */
const maxUnreadBytes = 32 * 1024 * 1024;
const unreadForMs = 30_000;

interface Reader {
  readonly unfinished: Set<ServerResponse>;
  readBytes: number;
  stuckSinceMs: number | null;
}

/** Bounds what waits in memory because somebody does not read. */
export interface AnswersBudget {
  /** False when the connection had too many requests under way and was ended. */
  begin(socket: Socket, response: ServerResponse): boolean;
  /** Ends connections that don't read: those that are stuck, and the greatest while all together hold too much. */
  sweep(nowMs: number): void;
}

function unreadBytes(socket: Socket, { unfinished }: Reader): number {
  let bytes = socket.writableLength;
  // An answer that has its turn counts what lies in the socket, too.
  for (const response of unfinished)
    bytes += Math.max(0, response.writableLength - (response.socket ? socket.writableLength : 0));
  return bytes;
}

/** `onRefused` is told each connection that was ended. */
export function createAnswersBudget(onRefused: (code: ProblemCode, address: string) => void): AnswersBudget {
  const readers = new Map<Socket, Reader>();

  function end(socket: Socket, code: ProblemCode): void {
    readers.delete(socket);
    onRefused(code, socket.remoteAddress ?? "");
    socket.destroy();
  }

  function readerOf(socket: Socket): Reader {
    const known = readers.get(socket);
    if (known) return known;
    const made: Reader = { unfinished: new Set(), readBytes: 0, stuckSinceMs: null };
    readers.set(socket, made);
    socket.once("close", () => {
      readers.delete(socket);
      // Node tells only the answer whose turn it was; what waits behind it must be let go, too.
      setImmediate(() => {
        for (const response of made.unfinished) if (!response.closed) response.emit("close");
      });
    });
    return made;
  }

  return {
    begin(socket, response) {
      if (socket.destroyed) return false;
      const { unfinished } = readerOf(socket);
      unfinished.add(response);
      response.once("close", () => unfinished.delete(response));
      if (unfinished.size <= maxUnfinished) return true;
      end(socket, "pipelined-too-many");
      return false;
    },
    sweep(nowMs) {
      let total = 0;
      const unread: (readonly [socket: Socket, bytes: number])[] = [];
      for (const [socket, reader] of readers) {
        const bytes = unreadBytes(socket, reader);
        const readBytes = socket.bytesWritten - socket.writableLength;
        if (bytes === 0 || readBytes !== reader.readBytes) reader.stuckSinceMs = null;
        else reader.stuckSinceMs ??= nowMs;
        reader.readBytes = readBytes;
        if (reader.stuckSinceMs !== null && nowMs - reader.stuckSinceMs > unreadForMs) {
          end(socket, "answers-unread");
          continue;
        }
        total += bytes;
        unread.push([socket, bytes]);
      }
      unread.sort(([, a], [, b]) => b - a);
      for (const [socket, bytes] of unread) {
        if (total <= maxUnreadBytes) break;
        end(socket, "answers-unread");
        total -= bytes;
      }
    },
  };
}
