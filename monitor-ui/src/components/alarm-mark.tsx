import type { AlarmView } from "@drumlin/gateway/contract";

// Octagon, triangle, diamond, square: never told apart by colour alone.
const outlines: Readonly<Record<AlarmView["attention"], string>> = {
  wake: "M8 2h8l6 6v8l-6 6H8l-6-6V8Z",
  tell: "M12 2.5 23 21.5H1Z",
  today: "M12 1.5 22.5 12 12 22.5 1.5 12Z",
  record: "M5 5h14v14H5Z",
};

/** The shape of an attention; filled while nobody has seen it. */
export function AlarmMark({
  attention,
  unseen,
}: {
  readonly attention: AlarmView["attention"];
  readonly unseen: boolean;
}) {
  return (
    <svg class={unseen ? "shape unseen" : "shape"} viewBox="0 0 24 24" aria-hidden="true">
      <path class="outline" d={outlines[attention]} />
      <path class="hole" d="M10.9 9h2.2v6h-2.2ZM10.9 16.5h2.2v2.2h-2.2Z" />
    </svg>
  );
}
