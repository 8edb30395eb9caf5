import { createRequire } from "node:module";

type Library = typeof import("@influxdata/influxdb-client");

/**
 * InfluxDB's own client library, read when a server is first spoken to: a gateway that sends nowhere does without it. By
 * `require`, since its build for `import` imports `node:http`, and that loads Node's whole web client: 16 MB in each thread.
 */
export const influxLibrary = (): Library =>
  createRequire(import.meta.url)("@influxdata/influxdb-client") as Library;
