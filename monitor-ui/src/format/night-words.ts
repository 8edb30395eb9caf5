import type { FillView, NightLine, NightView } from "@drumlin/gateway/contract";

/** "22:43" in the zone of the house. */
export function timeIn(zone: string, iso: string): string {
  return new Date(iso).toLocaleTimeString("en-GB", {
    timeZone: zone,
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
}

const dateOf = (date: string) => new Date(`${date}T12:00:00Z`);

/** "24 November" of the date of an evening. */
export const dayAndMonth = (date: string) =>
  dateOf(date).toLocaleDateString("en-GB", { timeZone: "UTC", day: "numeric", month: "long" });

/** "Tuesday night, 24 November". */
export const nightTitle = (date: string) =>
  `${dateOf(date).toLocaleDateString("en-GB", { timeZone: "UTC", weekday: "long" })} night, ${dayAndMonth(date)}`;

/** "24" of the date of an evening. */
export const dayOfMonth = (date: string) => String(dateOf(date).getUTCDate());

/** Never more than it is: 99.97 % is no 100 %. */
export const percentOf = (share: number) => Math.floor(share * 100 + 1e-9);

/** A night of the strip for whoever hears the page. */
export function spokenNight({ date, litres, watched, attention, running }: NightLine): string {
  const made = litres === null ? "litres unknown" : `${litres.toFixed(0)} litres`;
  const trouble = attention === null ? "" : ", trouble";
  return `Night of ${dayAndMonth(date)}: ${made}, watched ${percentOf(watched)} %${trouble}${running ? ", not over yet" : ""}`;
}

/** Who or what was not heard in a stretch. */
export function whoWords({ who, channels }: NightView["unwatched"][number]): string {
  if (who === "gateway") return "the gateway was off";
  const names = channels.map((channel) => channel.slice(who.length + 1));
  return `node ${who} not heard (${names.length > 4 ? `${names.length} channels` : names.join(", ")})`;
}

const ends: Readonly<Record<NonNullable<FillView["end"]>, string>> = {
  "float-tripped": "Float tripped",
  "inflow-stopped": "Inflow stopped before the float",
  "stopped-by-person": "Stopped by a person",
  "not-stopping": "Did not stop at its float",
};

/** How a fill ended, in a sentence. */
export function endWords({ end, tripAt, tripConfirmed, trippedAt, endedAt }: FillView): string {
  if (end === null) return "Still filling";
  const at = tripAt === null ? "" : ` at ${tripAt.toFixed(0)} L`;
  if (end !== "float-tripped") return ends[end];
  if (tripConfirmed === null) return `${ends[end]}${at}; nothing else to confirm it`;
  const apartS =
    trippedAt === null || endedAt === null
      ? null
      : Math.round((Date.parse(endedAt) - Date.parse(trippedAt)) / 1000);
  const later = apartS === null || apartS < 1 ? "" : ` ${apartS} s later`;
  return tripConfirmed ? `${ends[end]}${at}, inflow ended${later}` : `${ends[end]}${at}, inflow went on`;
}

/** Whether a fill needs a look: it did not stop as it should, or bad water came in. */
export const isInTrouble = ({ end, tripConfirmed, reasons }: FillView) =>
  end === "not-stopping" ||
  end === "inflow-stopped" ||
  (end === "float-tripped" && tripConfirmed === false) ||
  reasons.length > 0;
