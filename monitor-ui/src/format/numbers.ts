/** A number for a screen: three figures, at most three decimals (pure water reads 0.055 uS/cm), whole from 100 on. */
export function figure(value: number): string {
  const size = Math.abs(value);
  // Judged as rounded, so that 9.996 is "10.0" and not "10.00".
  if (size >= 99.95) return value.toFixed(0);
  if (size >= 9.995) return value.toFixed(1);
  if (size >= 0.0995 || value === 0) return value.toFixed(2);
  return value.toFixed(3);
}

/** A duration in ms as "45 s", "12 min", "1 h 12 min", "3 days". */
export function duration(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000));
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return `${Math.floor(hours / 24)} days`;
}

const weekMs = 6 * 86_400_000;

/** "22:43" today, "Tue 22:43" within the week before, "24 Nov, 22:43" else; names and order by the locale. */
export function clock(iso: string, nowMs: number, locale?: string): string {
  const at = new Date(iso);
  const time = at.toLocaleTimeString(locale, {
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
  if (at.toDateString() === new Date(nowMs).toDateString()) return time;
  const agoMs = nowMs - at.getTime();
  if (agoMs >= 0 && agoMs < weekMs) return `${at.toLocaleDateString(locale, { weekday: "short" })} ${time}`;
  return `${at.toLocaleDateString(locale, { day: "numeric", month: "short" })}, ${time}`;
}

/** A number as a person types it, with a comma or a point; null when it is none or can be read in two ways. */
export function numberOf(text: string): number | null {
  const trimmed = text.trim();
  if (!/^[-+]?(\d+([.,]\d*)?|[.,]\d+)$/.test(trimmed) || /^[1-9]\d{0,2},\d{3}$/.test(trimmed)) return null;
  return Number(trimmed.replace(",", "."));
}
