import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { keepFocus } from "../data/route.ts";
import { w } from "../words/words.ts";
import { CouldNotLoad } from "./could-not-load.tsx";
import { PageFrame } from "./page-frame.tsx";

type Page = () => JSX.Element;
type LaterPages = typeof import("../pages/later-pages.ts");

/** A page whose code is asked for when it is first opened: the Line stands sooner. Until then its title stands. */
export function later(title: () => string, name: keyof LaterPages): Page {
  let loaded: Page | null = null;
  return function Later() {
    const [state, set] = useState<"waiting" | "here" | "failed">(loaded ? "here" : "waiting");
    useEffect(() => {
      if (state !== "waiting") return;
      import("../pages/later-pages.ts").then(
        (pages) => {
          loaded = pages[name];
          set("here");
          // The title that stood meanwhile goes, and the focus with it.
          if (document.activeElement?.tagName === "H1") requestAnimationFrame(keepFocus);
        },
        // No contact, or the gateway has a newer page: then only the whole page anew helps.
        () => set("failed"),
      );
    }, [state]);
    if (loaded) {
      const Page = loaded;
      return <Page />;
    }
    return (
      <PageFrame title={title()}>
        {state === "failed" ? (
          <CouldNotLoad what={w.frame.thisPage} again={() => location.reload()} />
        ) : (
          <p class="soft">{w.frame.loading}</p>
        )}
      </PageFrame>
    );
  };
}
