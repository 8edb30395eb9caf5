import type { LineDrawing } from "@drumlin/gateway/contract";

/** The broker's host and port as a node reaches it. */
export function brokerOf(mqtt: LineDrawing["mqtt"]): { host: string; port: string } {
  if (mqtt.broker === null) return { host: location.hostname, port: String(mqtt.port) };
  const [host = "", port = "1883"] = mqtt.broker.split(/:(?=\d+$)/);
  return { host, port };
}

interface Reading {
  readonly n: string;
  readonly u: string;
  readonly v: number;
}

/** A command that is a node once. */
export function tryCommand(props: {
  readonly mqtt: LineDrawing["mqtt"];
  readonly site: string;
  readonly node: string;
  readonly secret: string | null;
  readonly readings: readonly Reading[];
}): string {
  const { mqtt, site, node, secret, readings } = props;
  const { host, port } = brokerOf(mqtt);
  return [
    `mosquitto_pub -h ${host} -p ${port}${mqtt.tls ? " --cafile ca.pem" : ""} -u ${node} -P ${secret ?? "SECRET"} -q 1 \\`,
    `  -t drumlin/1/${site}/${node}/readings \\`,
    `  -m '${JSON.stringify(readings)}'`,
  ].join("\n");
}
