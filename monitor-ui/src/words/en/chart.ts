/** Charts. */
export const chart = {
  howLong: "How long",
  hours: "{count} h",
  days: "{count} days",
  daysShort: "{count} d",
  range: "{title}, {span}: {lowest} to {highest}",
  nothing: "{title}, {span}: nothing to draw",
  lastHours: "last {hours} h",
  since: "since {time}",
  showAll: "Show all {count}",
  openTrend: "{words}. Open the trend",
} as const;
