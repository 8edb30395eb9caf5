import type { LineDrawing } from "@drumlin/gateway/contract";

/** The broker's host and port as a node reaches it. */
export function brokerOf(mqtt: LineDrawing["mqtt"]): { host: string; port: string } {
  if (mqtt.broker === null) return { host: location.hostname, port: String(mqtt.port) };
  const [host = "", port = "1883"] = mqtt.broker.split(/:(?=\d+$)/);
  return { host, port };
}

/** A command that is a node once: a reading of a conductivity probe. */
export function tryCommand(props: {
  readonly mqtt: LineDrawing["mqtt"];
  readonly site: string;
  readonly node: string;
  readonly channel?: string;
  readonly secret: string | null;
}): string {
  const { mqtt, site, node, channel = "ec-1", secret } = props;
  const { host, port } = brokerOf(mqtt);
  return [
    `mosquitto_pub -h ${host} -p ${port}${mqtt.tls ? " --cafile ca.pem" : ""} -u ${node} -P ${secret ?? "SECRET"} -q 1 \\`,
    `  -t drumlin/1/${site}/${node}/readings \\`,
    `  -m '[{"n":"${channel}","u":"S/m","v":0.0412}]'`,
  ].join("\n");
}
