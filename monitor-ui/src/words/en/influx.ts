/** Sending to InfluxDB. */
export const influx = {
  allSent: "Everything has been sent.",
  notAll: "Not everything has been sent yet. The gateway keeps it and sends it by itself.",
  notAllFor: "For {duration}, not everything has been sent. The gateway keeps it and sends it by itself.",
  pointsRefused: "{count} points refused: what and why",
  span: "{count}×, {from} to {to}",
} as const;
