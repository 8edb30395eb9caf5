/** Sending to InfluxDB. */
export const influx = {
  allSent: "Everything has been sent.",
  notAll: "Not everything has been sent yet. What waits is kept and sent by itself.",
  notAllFor: "Behind for {duration}. What waits is kept and sent by itself.",
  pointsRefused: "{count} points refused: what and why",
  span: "{count}×, {from} to {to}",
} as const;
