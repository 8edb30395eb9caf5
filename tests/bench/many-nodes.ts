// Memory and CPU of a gateway with 1,000 nodes, one pack each 5 s: the gateway is a process of its own, so that its
// memory is its own. Bounded: 40 s.
import { connect, type Socket } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { figure } from "./figures.ts";
import { cpuSeconds, residentMB } from "./processes.ts";
import { publishPacket } from "./publish-packet.ts";
import { signInPacket } from "./sign-in-packet.ts";

const nodes = 1000;
const periodMs = 5000;
const forMs = 40_000;

function signIn(port: number, node: string, secret: string): Promise<Socket> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, "127.0.0.1");
    socket.once("error", reject);
    socket.once("data", () => {
      socket.off("error", reject);
      socket.on("error", () => {});
      socket.resume();
      resolve(socket);
    });
    socket.write(signInPacket(node, node, secret));
  });
}

/** Prints resident memory and CPU once all nodes have sent for a while. */
export async function manyNodes(): Promise<void> {
  const names = Array.from({ length: nodes }, (_, place) => `node-${place}`);
  const site = await newSite(names);
  const gateway = await startProcess(site);
  const idleMB = residentMB(gateway.pid);
  const sockets: Socket[] = [];
  for (let at = 0; at < nodes; at += 20)
    sockets.push(
      ...(await Promise.all(
        names.slice(at, at + 20).map((name) => signIn(gateway.mqtt, name, site.secrets[name] as string)),
      )),
    );
  const begunMs = Date.now();
  const cpuBefore = cpuSeconds(gateway.pid);
  let sent = 0;
  for (let seq = 0; Date.now() - begunMs < forMs; seq += 1) {
    for (const [place, socket] of sockets.entries()) {
      const t = Date.now() / 1000;
      socket.write(
        publishPacket(
          names[place] as string,
          seq,
          JSON.stringify([
            { boot: 1, seq, n: "t-1", u: "Cel", v: 18.2, t },
            { n: "ec-1", u: "S/m", v: 0.0412, t },
            { n: "ec-2", u: "S/m", v: 0.00005, t },
          ]),
        ),
      );
      sent += 1;
      if (place % 50 === 49) await wait(periodMs / (nodes / 50));
    }
  }
  const seconds = (Date.now() - begunMs) / 1000;
  const share = (cpuSeconds(gateway.pid) - cpuBefore) / seconds;
  const about = `${nodes} nodes, ${Math.round(sent / seconds)} packs/s for ${seconds.toFixed(0)} s`;
  figure("memory-idle", idleMB, "MB", "resident, before any node came");
  figure("rss1000NodesMb", residentMB(gateway.pid), "MB", `resident, ${about}`);
  figure("processor-nodes", share * 100, "%", `of one core, ${about}`);
  for (const socket of sockets) socket.destroy();
  await gateway.stop();
}
