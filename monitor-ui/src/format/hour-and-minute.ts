const twelveHours = new Map<string, boolean>();

/** Whether clocks of a locale count to twelve, as a BCP 47 tag says it: en-US does, en-GB and de don't. */
function isTwelveHours(tag: string): boolean {
  let is = twelveHours.get(tag);
  if (is === undefined) {
    is = new Intl.DateTimeFormat(tag, { hour: "numeric" }).resolvedOptions().hour12 === true;
    twelveHours.set(tag, is);
  }
  return is;
}

/** How a locale writes the time of day: "3:28 PM" with twelve hours, "03:28" with 24, where figures stand in columns. */
export const hourAndMinute = (tag: string): Intl.DateTimeFormatOptions => ({
  hour: isTwelveHours(tag) ? "numeric" : "2-digit",
  minute: "2-digit",
});
