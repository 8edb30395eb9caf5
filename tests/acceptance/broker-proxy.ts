import { connect, createServer, type Socket } from "node:net";

/** A way to a broker on this machine that may be slow, down, or dead without saying so. */
export async function startProxy(port: number, delayMs = 0) {
  const open = new Set<Socket>();
  const state = { isDown: false, isDead: false, delayMs };
  /** What comes goes on after the delay, each way; of the same delay all timers fire in their order. */
  function carry(from: Socket, to: Socket): void {
    const later = (work: () => void) => (state.delayMs === 0 ? work() : setTimeout(work, state.delayMs));
    from.on("data", (piece) => {
      if (!state.isDead) later(() => to.writable && to.write(piece));
    });
    from.on("close", () => {
      open.delete(from);
      if (!state.isDead) later(() => to.destroy());
    });
    from.on("error", () => {});
  }
  const server = createServer((near) => {
    near.on("error", () => {});
    if (state.isDown) return void near.destroy();
    const far = connect(port, "127.0.0.1");
    for (const socket of [near, far]) open.add(socket.setNoDelay(true));
    carry(near, far);
    carry(far, near);
  });
  const cut = () => {
    for (const socket of open) socket.destroy();
    open.clear();
  };
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port: own } = server.address() as { port: number };
  return {
    url: `mqtt://127.0.0.1:${own}`,
    port: own,
    /** Ends every connection, and each that comes. */
    goDown() {
      state.isDown = true;
      cut();
    },
    comeUp() {
      state.isDown = false;
    },
    /** Takes what comes and gives nothing on, as behind a router that forgot the connection. */
    die() {
      state.isDead = true;
    },
    /** New connections go through again; those that died stay so. */
    revive() {
      for (const socket of open) socket.removeAllListeners("data").on("data", () => {});
      state.isDead = false;
    },
    stop() {
      cut();
      return new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
