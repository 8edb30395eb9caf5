const outlines = {
  line: "M2 8h6m4 0h6M10 13v5M7 18h6M7.5 8a2.5 2.5 0 1 0 5 0a2.5 2.5 0 1 0-5 0",
  moon: "M16 12.5A7 7 0 0 1 7.5 4 7 7 0 1 0 16 12.5Z",
  trend: "M2.5 3v14h15M5 13l3.5-4 3 2.5L17 5",
  alarm: "M10 3l8 14H2ZM10 8v4M10 14.5v.1",
  more: "M3 5.5h14M3 10h14M3 14.5h14",
  node: "M10 15.5v.1M6.7 12.2a4.7 4.7 0 0 1 6.6 0M3.8 9.2a8.8 8.8 0 0 1 12.4 0",
  bell: "M4 14h12l-1.5-2.5V9a4.5 4.5 0 0 0-9 0v2.5ZM8.5 16.5a1.6 1.6 0 0 0 3 0",
  sound: "M3 8v4h3l4 3.5v-11L6 8ZM13 7.5a4 4 0 0 1 0 5M15.5 5a8 8 0 0 1 0 10",
  mute: "M3 8v4h3l4 3.5v-11L6 8ZM13.5 8l4 4M17.5 8l-4 4",
  next: "M7 4l6 6-6 6",
  back: "M13 4l-6 6 6 6",
  close: "M5 5l10 10M15 5L5 15",
  dots: "M4 10h.01M10 10h.01M16 10h.01",
  flow: "M2.5 10h13M11 5.5l4.5 4.5L11 14.5",
  float:
    "M4 3v6M6.5 11a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0M2 16.5c2-1.5 3.5-1.5 5.5 0s3.5 1.5 5.5 0 3-1.5 5 0",
  drop: "M10 2.5C7 7 5 9.5 5 12.5a5 5 0 0 0 10 0c0-3-2-5.5-5-10ZM6 12h8",
  lost: "M3 3l14 14M6.7 12.2a4.7 4.7 0 0 1 3.3-1.4M3.8 9.2a8.8 8.8 0 0 1 3.4-2.1M10 6.6a8.8 8.8 0 0 1 6.2 2.6M10 15.5v.1",
  clock: "M10 2.5a7.5 7.5 0 1 0 0 15a7.5 7.5 0 1 0 0-15M10 6v4l3 2",
} as const;

/** A line drawing of 20 units; it says nothing by itself: words stand beside it or on its button. */
export function Icon({ name }: { readonly name: keyof typeof outlines }) {
  return (
    <svg class={name === "dots" ? "ico heavy" : "ico"} viewBox="0 0 20 20" aria-hidden="true">
      <path d={outlines[name]} />
    </svg>
  );
}
