import type { Socket } from "node:net";
import { Answers } from "./answers.ts";
import type { Connection } from "./connection.ts";
import { type BadFrame, guardFrames } from "./frame-guard.ts";
import type { Shared } from "./shared.ts";

const connectWithinMs = 10_000;
/** CONNACK "not authorized" (MQTT 3.1.1 §3.2), for a CONNECT that is too long to be read. */
const connackNotAuthorized = Buffer.from([0x20, 2, 0, 5]);

/** Counts a frame that can't be taken and ends its connection; a CONNECT is answered before. */
function endForFrame(
  { components }: Shared,
  { socket, node }: Connection,
  { bytes, isConnect }: BadFrame,
): void {
  if (bytes === null) components.onRefused("frame-broken", node, "The length of a frame is none.");
  else components.onRefused("frame-too-long", node, `${bytes} bytes`);
  if (isConnect && node === null) socket.end(connackNotAuthorized, () => socket.destroy());
  else socket.destroy();
}

function newConnection(shared: Shared, socket: Socket): Connection {
  const { now, onRefused } = shared.components;
  const connection: Connection = {
    socket,
    guard: guardFrames(socket, (frame) => endForFrame(shared, connection, frame)),
    address: socket.remoteAddress ?? "",
    node: null,
    secret: null,
    answers: new Answers({ socket, intake: shared.intake, now, onRefused }),
    ownTopics: new Set(),
    filters: new Set(),
  };
  return connection;
}

/** A connection that says nothing costs a socket and no more: the broker library gets it with its first bytes, in its turn. */
function whenItSpeaks({ components, turns }: Shared, socket: Socket, handle: () => void): void {
  socket.setTimeout(connectWithinMs, () => {
    components.onRefused("connect-too-late", null, socket.remoteAddress ?? "");
    socket.destroy();
  });
  socket.once("readable", () => {
    socket.setTimeout(0);
    turns.take(() => {
      if (socket.destroyed) return;
      handle();
      // The library listens from now on; what is there already it would hear of only with the next bytes.
      socket.emit("readable");
    });
  });
}

/** Takes a socket in: its frames are guarded, its end is noted, and `handle` gets it once it speaks. */
export function takeSocket(shared: Shared, socket: Socket, handle: (socket: Socket) => void): Connection {
  const { connections, intake } = shared;
  socket.setNoDelay(true);
  socket.on("error", () => socket.destroy());
  const connection = newConnection(shared, socket);
  connections.open.add(connection);
  socket.once("close", () => {
    connections.closed(connection);
    if (connection.node !== null) intake.leave(connection.node, connection.guard);
  });
  whenItSpeaks(shared, socket, () => handle(socket));
  return connection;
}
