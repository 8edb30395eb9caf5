import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { moved, spanOf, type Window, zoomed } from "./window.ts";

interface GestureNeeds {
  /** The window as it is shown now. */
  readonly window: Window;
  readonly nowMs: () => number;
  readonly onWindow: (next: Window) => void;
  /** Where the finger or pointer stands, epoch ms. */
  readonly onCursor: (ms: number) => void;
  /** Twice tapped: back to the time that goes on. */
  readonly onHome: () => void;
}

/** A finger that moves less than so far, px, is a tap. */
const tapPx = 6;
const wheelStep = 1.0015;

/**
 * Drag pans, wheel and two fingers zoom, a tap or the pointer sets the cursor. The page still scrolls upright by touch.
 * `host` holds the panels; their `.plot` is what time is laid over.
 */
export function useGestures(host: RefObject<HTMLElement | null>, needs: GestureNeeds): void {
  const latest = useRef(needs);
  latest.current = needs;
  useEffect(() => {
    const element = host.current;
    if (!element) return;
    const pointers = new Map<number, number>();
    let [movedPx, isDragging] = [0, false];
    const plot = () => element.querySelector(".plot")?.getBoundingClientRect();
    const timeAt = (clientX: number): number | null => {
      const box = plot();
      if (!box || box.width === 0) return null;
      const { window } = latest.current;
      return window.fromMs + ((clientX - box.left) / box.width) * spanOf(window);
    };
    const spread = () => {
      const [a = 0, b = 0] = pointers.values();
      return { middle: (a + b) / 2, apart: Math.max(20, Math.abs(a - b)) };
    };
    const down = (event: PointerEvent) => {
      if (event.button !== 0 || !(event.target as Element).closest(".plot")) return;
      pointers.set(event.pointerId, event.clientX);
      [movedPx, isDragging] = [0, false];
    };
    const move = (event: PointerEvent) => {
      const { window, onWindow, onCursor, nowMs } = latest.current;
      const before = pointers.get(event.pointerId);
      const at = timeAt(event.clientX);
      const width = plot()?.width ?? 1;
      if (before === undefined) {
        if (event.pointerType === "mouse" && at !== null && (event.target as Element).closest(".plot"))
          onCursor(at);
        return;
      }
      if (pointers.size === 2) {
        const was = spread();
        pointers.set(event.pointerId, event.clientX);
        const is = spread();
        const around = timeAt(was.middle);
        if (around === null) return;
        const next = zoomed(window, was.apart / is.apart, around, nowMs());
        onWindow(moved(next, ((was.middle - is.middle) / width) * spanOf(next), nowMs()));
        return;
      }
      movedPx += Math.abs(event.clientX - before);
      if (movedPx < tapPx && !isDragging) return;
      if (!isDragging) {
        isDragging = true;
        element.setPointerCapture(event.pointerId);
      }
      pointers.set(event.pointerId, event.clientX);
      onWindow(moved(window, ((before - event.clientX) / width) * spanOf(window), nowMs()));
    };
    const up = (event: PointerEvent) => {
      if (pointers.delete(event.pointerId) && !isDragging) {
        const at = timeAt(event.clientX);
        if (at !== null) latest.current.onCursor(at);
      }
    };
    const cancel = (event: PointerEvent) => void pointers.delete(event.pointerId);
    const wheel = (event: WheelEvent) => {
      const at = timeAt(event.clientX);
      if (at === null || !(event.target as Element).closest(".plot")) return;
      event.preventDefault();
      const { window, onWindow, nowMs } = latest.current;
      const isSideways = event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY);
      const delta = isSideways ? event.deltaX || event.deltaY : event.deltaY;
      const next = isSideways
        ? moved(window, (delta / 1000) * spanOf(window), nowMs())
        : zoomed(window, wheelStep ** delta, at, nowMs());
      onWindow(next);
    };
    const twice = (event: MouseEvent) => {
      if ((event.target as Element).closest(".plot")) latest.current.onHome();
    };
    element.addEventListener("pointerdown", down);
    element.addEventListener("pointermove", move);
    element.addEventListener("pointerup", up);
    element.addEventListener("pointercancel", cancel);
    element.addEventListener("wheel", wheel, { passive: false });
    element.addEventListener("dblclick", twice);
    return () => {
      element.removeEventListener("pointerdown", down);
      element.removeEventListener("pointermove", move);
      element.removeEventListener("pointerup", up);
      element.removeEventListener("pointercancel", cancel);
      element.removeEventListener("wheel", wheel);
      element.removeEventListener("dblclick", twice);
    };
  }, []);
}

/** What a key does with the window and the cursor; null where it does nothing. */
export function ofKey(
  key: string,
  isFar: boolean,
  at: { readonly window: Window; readonly cursorMs: number; readonly nowMs: number },
): { readonly cursorMs?: number; readonly window?: Window } | null {
  const { window, cursorMs, nowMs } = at;
  const step = spanOf(window) / (isFar ? 10 : 100);
  const inside = (ms: number) => Math.min(window.toMs, Math.max(window.fromMs, ms));
  switch (key) {
    case "ArrowLeft":
      return { cursorMs: inside(cursorMs - step) };
    case "ArrowRight":
      return { cursorMs: inside(cursorMs + step) };
    case "PageUp":
      return { window: moved(window, -spanOf(window) / 2, nowMs) };
    case "PageDown":
      return { window: moved(window, spanOf(window) / 2, nowMs) };
    case "+":
      return { window: zoomed(window, 0.5, cursorMs, nowMs) };
    case "-":
      return { window: zoomed(window, 2, cursorMs, nowMs) };
    default:
      return null;
  }
}
