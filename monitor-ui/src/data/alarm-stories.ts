import type { AlarmChangeView } from "@drumlin/gateway/contract";
import { dayOf } from "../format/numbers.ts";

/** What happened to one alarm on one day, the newest change first. */
interface Story {
  /** The day, as "2026-11-24" in the site's zone. */
  readonly day: string;
  readonly changes: readonly AlarmChangeView[];
}

/** Changes of a day that are about one alarm, together where the newest of them stood: its name is said once. */
export function storiesOf(changes: readonly AlarmChangeView[]): readonly Story[] {
  const stories = new Map<string, { day: string; changes: AlarmChangeView[] }>();
  for (const change of changes) {
    const day = dayOf(new Date(change.at));
    const name = `${day} ${change.alarm.key}`;
    const story = stories.get(name) ?? { day, changes: [] };
    story.changes.push(change);
    stories.set(name, story);
  }
  return [...stories.values()];
}
