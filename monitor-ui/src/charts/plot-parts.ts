import type uPlot from "uplot";

/** A colour of the page by its name in the style sheet, as it is now (light or dark). */
export function colour(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}

/** Readings with a gap on both sides: no line reaches them, so each is drawn as a dot. */
export function lonely(plot: uPlot, series: number): number[] {
  const values = plot.data[series] ?? [];
  const places: number[] = [];
  values.forEach((value, place) => {
    if (value != null && values[place - 1] == null && values[place + 1] == null) places.push(place);
  });
  return places;
}

const two = (value: number) => String(value).padStart(2, "0");

/** Labels of a time axis: "14:30", and "24.11." where a day begins or the steps are days. */
export function axisTimes(
  _plot: uPlot,
  splits: number[],
  _axis: number,
  _space: number,
  stepS: number,
): string[] {
  return splits.map((s) => {
    const at = new Date(s * 1000);
    const day = `${at.getDate()}.${at.getMonth() + 1}.`;
    if (stepS >= 86_400 || (at.getHours() === 0 && at.getMinutes() === 0)) return day;
    return `${two(at.getHours())}:${two(at.getMinutes())}`;
  });
}

/** "24.11. 14:30" of seconds since 1970. */
export function dayAndTime(s: number): string {
  const at = new Date(s * 1000);
  return `${at.getDate()}.${at.getMonth() + 1}. ${two(at.getHours())}:${two(at.getMinutes())}`;
}
