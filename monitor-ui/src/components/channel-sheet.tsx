import { useState } from "preact/hooks";
import type { Channel } from "../trend/channels.ts";
import { say, w } from "../words/words.ts";
import { Field } from "./field.tsx";
import { Sheet } from "./sheet.tsx";

interface ChannelSheetProps {
  readonly channels: readonly Channel[];
  readonly chosen: readonly string[];
  readonly toggle: (key: string) => void;
  readonly onClose: () => void;
}

/** Everything that can be drawn, found by a word; a tap adds or takes away at once. */
export function ChannelSheet({ channels, chosen, toggle, onClose }: ChannelSheetProps) {
  const [word, type] = useState("");
  const wanted = word.trim().toLowerCase();
  const found = channels.filter(({ title, panel }) => `${title} ${panel}`.toLowerCase().includes(wanted));
  return (
    <Sheet title={w.trendWords.whatIsDrawn} onClose={onClose}>
      <Field label={w.trendWords.find} hint={w.trendWords.findHint}>
        <input type="search" value={word} onInput={({ currentTarget }) => type(currentTarget.value)} />
      </Field>
      {found.length === 0 && <p class="soft">{say(w.trendWords.noneFound, { word })}</p>}
      {[...Map.groupBy(found, ({ panel }) => panel)].map(([panel, own]) => (
        <div key={panel} class="channel-group">
          <h3>{panel}</h3>
          <div class="chips">
            {own.map(({ key, title }) => (
              <button
                type="button"
                key={key}
                class="chip"
                aria-pressed={chosen.includes(key)}
                onClick={() => toggle(key)}
              >
                {title}
              </button>
            ))}
          </div>
        </div>
      ))}
    </Sheet>
  );
}
