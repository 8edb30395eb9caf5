/** Charts. */
export const chart = {
  howLong: "How long",
  hours: "{count} h",
  days: "{count} days",
  time: "time",
  smallest: "{title}, smallest",
  greatest: "{title}, greatest",
  limit: "limit",
  overHours: "{title}, {unit}, the last {hours} hours",
  range: "{title}, last {hours} h: {lowest} to {highest}",
  nothing: "{title}, last {hours} h: nothing to draw",
  openTrend: "{words}. Open the trend",
} as const;
