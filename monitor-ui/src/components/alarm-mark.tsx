import type { AlarmView } from "@drumlin/gateway/contract";
import { attentionWords } from "../format/words.ts";

// Octagon, triangle, diamond, square: never told apart by colour alone.
const outlines: Readonly<Record<AlarmView["attention"], string>> = {
  wake: "M8 2h8l6 6v8l-6 6H8l-6-6V8Z",
  tell: "M12 2.5 23 21.5H1Z",
  today: "M12 1.5 22.5 12 12 22.5 1.5 12Z",
  record: "M5 5h14v14H5Z",
};

/** The shape of an attention. Its place says whether it was seen: filled on a filled field, or an outline. */
export function AlarmMark({ attention }: { readonly attention: AlarmView["attention"] }) {
  return (
    <svg class={`att ${attention}`} viewBox="0 0 24 24" role="img" aria-label={attentionWords(attention)}>
      <path class="f" d={outlines[attention]} />
      <path class="m" d="M10.9 8h2.2v7h-2.2ZM10.9 16.5h2.2v2.2h-2.2Z" />
    </svg>
  );
}
