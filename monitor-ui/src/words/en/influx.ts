/** Sending to InfluxDB. */
export const influx = {
  allSent: "Everything is sent.",
  notAll: "Not everything is sent yet. The gateway keeps it and sends it by itself.",
  notAllFor: "Not everything is sent yet, for {duration}. The gateway keeps it and sends it by itself.",
  pointsRefused: "{count} points refused: what and why",
  span: "{count}×, {from} to {to}",
} as const;
