import { readFile } from "node:fs/promises";
import { readLine } from "../../line/index.ts";
import { listenAddress, readOptions, UsageError } from "../options.ts";
import { startGateway } from "../start-gateway.ts";
import { untilStopped } from "../until-stopped.ts";
import type { Command } from "./command.ts";
import { faultText } from "./fault-text.ts";

const help = `drumlin run --line FILE --data DIR [--http HOST:PORT] [--mqtt HOST:PORT]

Runs the gateway: takes packs from nodes over MQTT, judges them, keeps them, shows the page.
  --line FILE        the line file; "drumlin check FILE" reads it first
  --data DIR         where everything is kept; made when missing (one folder, one gateway)
  --http HOST:PORT   the page and the API; 127.0.0.1:8080, loopback only until accounts exist
  --mqtt HOST:PORT   the embedded MQTT broker; 127.0.0.1:1883
Each option is also read from the environment: DRUMLIN_LINE, DRUMLIN_DATA, DRUMLIN_HTTP, DRUMLIN_MQTT.
Nodes sign in with a name and a secret: drumlin node add NAME --data DIR.`;

export const runCommand: Command = {
  name: "run",
  summary: "runs the gateway on your own line",
  help,
  async run(args) {
    const options = readOptions(args, { line: "text", data: "text", http: "text", mqtt: "text" });
    const file = options.text("line");
    const data = options.text("data");
    if (!file || !data) throw new UsageError("--line and --data are needed.");
    const lineYaml = await readFile(file, "utf8");
    const read = readLine(lineYaml);
    for (const fault of read.faults) console.error(faultText(file, fault));
    if (!read.ok) return 1;
    // Listened for before anything is said to be ready: a signal that comes at once is still an orderly stop.
    const stopped = untilStopped();
    const gateway = await startGateway({
      data,
      lineYaml,
      http: listenAddress(options.text("http") ?? "127.0.0.1:8080", "http"),
      mqtt: listenAddress(options.text("mqtt") ?? "127.0.0.1:1883", "mqtt"),
      log: (message) => console.error(message),
    });
    console.log(
      `page and API: http://127.0.0.1:${gateway.httpPort}/   MQTT: port ${gateway.mqttPort}   site: ${read.line.site}`,
    );
    await stopped;
    await gateway.stop();
    return 0;
  },
};
