import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";

/** A night is no narrower. */
const nightPx = 30;

/** Opens a strip of nights at its newest, and keeps what it shows when the phone is turned: what it was scrolled to, or the night chosen since. */
export function useScrollKept(
  strip: RefObject<HTMLElement | null>,
  newest: string | undefined,
  chosen: string | null,
): void {
  // Px from the newest end; null as long as the chosen night goes first.
  const kept = useRef<number | null>(null);
  useEffect(() => {
    kept.current = null;
  }, [chosen, newest]);
  useEffect(() => {
    const box = strip.current;
    if (!box) return;
    let width = 0;
    const left = () => box.scrollWidth - box.clientWidth - box.scrollLeft;
    const turned = new ResizeObserver(() => {
      width = box.clientWidth;
      const night = box.querySelector(".ncol[aria-current]")?.getBoundingClientRect();
      const toNight = night ? night.right - box.getBoundingClientRect().right + width / 2 : left();
      box.scrollBy({ left: kept.current === null ? toNight : left() - kept.current });
    });
    const scrolled = () => {
      // Where all nights have room there is nothing to keep, and a new width only cuts what was kept.
      if (box.clientWidth === width && box.scrollWidth > width + nightPx) kept.current = left();
    };
    turned.observe(box);
    box.addEventListener("scroll", scrolled);
    return () => {
      turned.disconnect();
      box.removeEventListener("scroll", scrolled);
    };
  }, [newest]);
}
