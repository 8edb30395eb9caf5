import { useState } from "preact/hooks";
import type { Loaded } from "../data/trend.ts";
import { csvOf } from "./csv.ts";
import { panelsOf } from "./panels.ts";
import { pictureOf, pngOf } from "./picture.ts";
import { dayAndTime, toInput } from "./time-axis.ts";

/** Hands a file to whoever looks. */
function give(blob: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** What is drawn, as a table and as a picture; and its link. */
export function TrendFiles(props: {
  readonly loaded: Loaded;
  readonly title: string;
  readonly zone: string | undefined;
}) {
  const { loaded, title, zone } = props;
  const [said, say] = useState("");
  const name = `drumlin-${toInput(loaded.fromMs, zone).replaceAll(":", "")}`;
  const picture = async () => {
    const heading = `${title}, ${dayAndTime(loaded.fromMs, zone)} to ${dayAndTime(loaded.toMs, zone)}`;
    const png = await pngOf(pictureOf(panelsOf(loaded.series), { loaded, title: heading, zone })).catch(
      () => null,
    );
    if (png) give(png, `${name}.png`);
    else say("This browser can't make the picture.");
  };
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(location.href);
      say("Link copied.");
    } catch {
      say("Copy it from the address bar: this page may not, as it came without TLS.");
    }
  };
  return (
    <>
      <button
        type="button"
        class="btn"
        onClick={() => give(new Blob([csvOf(loaded.series)], { type: "text/csv" }), `${name}.csv`)}
      >
        CSV
      </button>
      <button type="button" class="btn" onClick={() => void picture()}>
        Picture
      </button>
      <button type="button" class="btn" onClick={() => void copy()}>
        Copy link
      </button>
      <span class="answer" role="status">
        {said}
      </span>
    </>
  );
}
