import { connect, createServer, type Socket } from "node:net";

/** What a way does with what is sent: bytes a second towards the server, and whether it lets anything through. */
interface Way {
  bytesPerSecond: number;
  isUp: boolean;
}

const tickMs = 50;

/**
 * Stands before a server on this machine, as a slow link does, and resets connections when it goes down. It reads no more than
 * it passes on, so that what waits does so at the sender.
 */
export async function roughWay(port: number) {
  const way: Way = { bytesPerSecond: Number.POSITIVE_INFINITY, isUp: true };
  const open = new Set<Socket>();
  const seen = { connections: 0, bytes: 0 };
  /** All connections share the link. */
  let budget = 0;
  const waiting: (() => void)[] = [];
  const ticking = setInterval(() => {
    budget = Math.min(way.bytesPerSecond, budget + (way.bytesPerSecond * tickMs) / 1000);
    for (const go of waiting.splice(0)) go();
  }, tickMs);
  function carryOn(near: Socket, far: Socket): void {
    const take = () => {
      if (far.destroyed) return;
      const most = Math.min(
        64 * 1024,
        Math.floor(way.bytesPerSecond === Number.POSITIVE_INFINITY ? 65536 : budget),
      );
      const piece =
        most > 0 ? (near.read(Math.min(most, near.readableLength || most)) as Buffer | null) : null;
      if (piece) {
        budget -= piece.length;
        seen.bytes += piece.length;
        far.write(piece);
        if (near.readableLength > 0) waiting.push(take);
      } else if (near.readableLength > 0) waiting.push(take);
    };
    near.on("readable", take);
  }
  const server = createServer((near) => {
    near.on("error", () => {});
    if (!way.isUp) return void near.resetAndDestroy();
    seen.connections += 1;
    const far = connect(port, "127.0.0.1");
    far.on("error", () => {});
    for (const socket of [near, far]) open.add(socket);
    carryOn(near, far);
    far.on("data", (piece) => near.writable && near.write(piece));
    near.on("close", () => {
      open.delete(near);
      far.destroy();
    });
    far.on("close", () => {
      open.delete(far);
      near.destroy();
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port: own } = server.address() as { port: number };
  return {
    url: `http://127.0.0.1:${own}`,
    seen,
    /** Bytes a second, all connections together; Infinity: as fast as it can. */
    slowTo(bytesPerSecond: number) {
      way.bytesPerSecond = bytesPerSecond;
      budget = 0;
    },
    goDown() {
      way.isUp = false;
      for (const socket of open) socket.resetAndDestroy();
      open.clear();
    },
    comeUp() {
      way.isUp = true;
    },
    close() {
      clearInterval(ticking);
      for (const socket of open) socket.destroy();
      server.close();
    },
  };
}
