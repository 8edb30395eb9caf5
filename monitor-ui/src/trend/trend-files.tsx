import { useState } from "preact/hooks";
import type { Loaded } from "../data/trend.ts";
import { say, w } from "../words/words.ts";
import { csvOf } from "./csv.ts";
import { give } from "./give.ts";
import { panelsOf } from "./panels.ts";
import { pictureOf, pngOf } from "./picture.ts";
import { dayAndTime, toInput } from "./time-axis.ts";

/** What is drawn, as a table and as a picture; and its link. */
export function TrendFiles(props: {
  readonly loaded: Loaded;
  readonly title: string;
  readonly zone: string | undefined;
}) {
  const { loaded, title, zone } = props;
  const [said, tell] = useState("");
  const name = `drumlin-${toInput(loaded.fromMs, zone).replaceAll(":", "")}`;
  const picture = async () => {
    const heading = `${title}, ${say(w.trendWords.to, {
      from: dayAndTime(loaded.fromMs, zone),
      to: dayAndTime(loaded.toMs, zone),
    })}`;
    const png = await pngOf(pictureOf(panelsOf(loaded.series), { loaded, title: heading, zone })).catch(
      () => null,
    );
    if (png) give(png, `${name}.png`);
    else tell(w.trendWords.noPicture);
  };
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(location.href);
      tell(w.trendWords.linkCopied);
    } catch {
      tell(w.trendWords.copyFromBar);
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
        {w.trendWords.picture}
      </button>
      <button type="button" class="btn" onClick={() => void copy()}>
        {w.trendWords.copyLink}
      </button>
      <span class="answer" role="status">
        {said}
      </span>
    </>
  );
}
