import type { Told } from "./components.ts";
import type { LiveEvent } from "./contract.ts";

/** Things of the line whose text is kept for the other streams. */
const maxTexts = 1000;

/** One event as it goes over the line. */
export function textOfEvent(event: LiveEvent, seq: number): string {
  return `id: ${seq}\nevent: ${event.event}\ndata: ${JSON.stringify(event.data)}\n\n`;
}

/**
 * The news of points, drums and nodes as text, made once for all streams: a view costs more than sending it. A text holds
 * until its thing is told anew, which each stream says before any of them sends.
 */
export class LiveTexts {
  private readonly texts = new Map<string, string>();

  changed(key: string): void {
    this.texts.delete(key);
  }

  /** Empty where the thing is no longer on the line. */
  of(key: string, { view }: Told, seq: number): string {
    const known = this.texts.get(key);
    if (known !== undefined) return known;
    const event = view();
    const text = event === null ? "" : textOfEvent(event, seq);
    if (this.texts.size >= maxTexts) this.texts.clear();
    this.texts.set(key, text);
    return text;
  }
}
