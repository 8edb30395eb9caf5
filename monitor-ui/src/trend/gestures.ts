import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { between, moved, spanOf, type Window, zoomed } from "./window.ts";

interface GestureNeeds {
  /** The window as it is shown now. */
  readonly window: Window;
  readonly nowMs: () => number;
  readonly onWindow: (next: Window) => void;
  /** Where the finger or pointer stands, epoch ms. */
  readonly onCursor: (ms: number) => void;
  /** A stretch that is marked with Shift and drag; null once it is let go. */
  readonly onBrush?: (stretch: { readonly fromMs: number; readonly toMs: number } | null) => void;
  /** Twice tapped: back to the time that goes on. */
  readonly onHome: () => void;
}

/** A finger that moves less than so far, px, is a tap. */
const tapPx = 6;
const wheelStep = 1.0015;

/** What fingers are doing on one host of panels. */
interface Hand {
  readonly element: HTMLElement;
  readonly needs: () => GestureNeeds;
  /** Where each finger is, by its id, px. */
  readonly pointers: Map<number, number>;
  movedPx: number;
  isDragging: boolean;
  /** Where Shift and drag began to mark, epoch ms. */
  brushFrom: number | null;
}

const isOnPlot = (event: Event): boolean => (event.target as Element).closest(".plot") !== null;
const plotOf = ({ element }: Hand) => element.querySelector(".plot")?.getBoundingClientRect();

/** The time under a place of the screen. */
function timeAt(hand: Hand, clientX: number): number | null {
  const box = plotOf(hand);
  if (!box || box.width === 0) return null;
  const { window } = hand.needs();
  return window.fromMs + ((clientX - box.left) / box.width) * spanOf(window);
}

function spreadOf({ pointers }: Hand) {
  const [a = 0, b = 0] = pointers.values();
  return { middle: (a + b) / 2, apart: Math.max(20, Math.abs(a - b)) };
}

function begun(hand: Hand, event: PointerEvent): void {
  if (event.button !== 0 || !isOnPlot(event)) return;
  hand.pointers.set(event.pointerId, event.clientX);
  [hand.movedPx, hand.isDragging] = [0, false];
  hand.brushFrom = event.shiftKey && hand.needs().onBrush ? timeAt(hand, event.clientX) : null;
}

/** Two fingers: zooms by how far they part, moves by where their middle goes. */
function pinched(hand: Hand, event: PointerEvent): void {
  const { window, onWindow, nowMs } = hand.needs();
  const was = spreadOf(hand);
  hand.pointers.set(event.pointerId, event.clientX);
  const is = spreadOf(hand);
  const around = timeAt(hand, was.middle);
  if (around === null) return;
  const next = zoomed(window, was.apart / is.apart, around, nowMs());
  const width = plotOf(hand)?.width ?? 1;
  onWindow(moved(next, ((was.middle - is.middle) / width) * spanOf(next), nowMs()));
}

function went(hand: Hand, event: PointerEvent): void {
  const { window, onWindow, onCursor, onBrush, nowMs } = hand.needs();
  const before = hand.pointers.get(event.pointerId);
  const at = timeAt(hand, event.clientX);
  if (before === undefined) {
    if (event.pointerType === "mouse" && at !== null && isOnPlot(event)) onCursor(at);
    return;
  }
  if (hand.pointers.size === 2) {
    pinched(hand, event);
    return;
  }
  hand.movedPx += Math.abs(event.clientX - before);
  if (hand.movedPx < tapPx && !hand.isDragging) return;
  if (!hand.isDragging) {
    hand.isDragging = true;
    hand.element.setPointerCapture(event.pointerId);
  }
  hand.pointers.set(event.pointerId, event.clientX);
  const from = hand.brushFrom;
  if (from === null)
    onWindow(
      moved(window, ((before - event.clientX) / (plotOf(hand)?.width ?? 1)) * spanOf(window), nowMs()),
    );
  else if (at !== null) onBrush?.({ fromMs: Math.min(from, at), toMs: Math.max(from, at) });
}

function ended(hand: Hand, event: PointerEvent): void {
  const { onWindow, onCursor, onBrush, nowMs } = hand.needs();
  const at = timeAt(hand, event.clientX);
  if (hand.brushFrom !== null) {
    if (hand.isDragging && at !== null) onWindow(between(hand.brushFrom, at, nowMs()));
    onBrush?.(null);
    hand.brushFrom = null;
  }
  if (hand.pointers.delete(event.pointerId) && !hand.isDragging && at !== null) onCursor(at);
}

function cancelled(hand: Hand, event: PointerEvent): void {
  hand.pointers.delete(event.pointerId);
  if (hand.brushFrom !== null) hand.needs().onBrush?.(null);
  hand.brushFrom = null;
}

function rolled(hand: Hand, event: WheelEvent): void {
  const at = timeAt(hand, event.clientX);
  if (at === null || !isOnPlot(event)) return;
  event.preventDefault();
  const { window, onWindow, nowMs } = hand.needs();
  const isSideways = event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY);
  const delta = isSideways ? event.deltaX || event.deltaY : event.deltaY;
  const next = isSideways
    ? moved(window, (delta / 1000) * spanOf(window), nowMs())
    : zoomed(window, wheelStep ** delta, at, nowMs());
  onWindow(next);
}

/**
 * Drag pans, Shift and drag marks a stretch, wheel and two fingers zoom, a tap or the pointer sets the cursor. The page
 * still scrolls upright by touch. `host` holds the panels; their `.plot` is what time is laid over.
 */
export function useGestures(host: RefObject<HTMLElement | null>, needs: GestureNeeds): void {
  const latest = useRef(needs);
  latest.current = needs;
  useEffect(() => {
    const element = host.current;
    if (!element) return;
    const over = new AbortController();
    const { signal } = over;
    const hand: Hand = {
      element,
      needs: () => latest.current,
      pointers: new Map(),
      movedPx: 0,
      isDragging: false,
      brushFrom: null,
    };
    element.addEventListener("pointerdown", (event) => begun(hand, event), { signal });
    element.addEventListener("pointermove", (event) => went(hand, event), { signal });
    element.addEventListener("pointerup", (event) => ended(hand, event), { signal });
    element.addEventListener("pointercancel", (event) => cancelled(hand, event), { signal });
    element.addEventListener("wheel", (event) => rolled(hand, event), { passive: false, signal });
    element.addEventListener(
      "dblclick",
      (event) => {
        if (isOnPlot(event)) latest.current.onHome();
      },
      { signal },
    );
    return () => over.abort();
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
