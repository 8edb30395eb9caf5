import { computed, signal } from "@preact/signals";

/** What the history keeps of an address at which somebody was. */
const been = "been";

const address = signal(location.hash.slice(1));

/** The page that the address names after its #; "" is the Line. */
export const route = computed(() => address.value.split("?")[0] ?? "");
/** What stands behind the page's name in the address. */
export const query = computed(() => new URLSearchParams(address.value.split("?")[1] ?? ""));

type Parameters = Readonly<Record<string, string>>;

function addressOf(page: string, parameters: Parameters): string {
  const text = Object.entries(parameters)
    .map(([name, value]) => `${name}=${value}`)
    .join("&");
  return text === "" ? page : `${page}?${text}`;
}

/** Shows a page; what it shows stands in the address, so that it can be sent to somebody. */
export function goTo(page: string, parameters: Parameters = {}): void {
  location.hash = addressOf(page, parameters);
}

/** The same page with other parameters, and no step more to go back: for what a finger moves. */
export function stayAt(page: string, parameters: Parameters): void {
  history.replaceState(been, "", `#${addressOf(page, parameters)}`);
  address.value = location.hash.slice(1);
}

/** Focus that went with what was there goes to the new page's name: with keys, one goes on from there. */
export function keepFocus(): void {
  if (document.activeElement === document.body)
    document.querySelector<HTMLElement>("h1")?.focus({ preventScroll: true });
}

history.replaceState(been, "");
addEventListener("hashchange", () => {
  const before = route.peek();
  address.value = location.hash.slice(1);
  const isNew = history.state !== been;
  history.replaceState(been, "");
  // A page begins at its top; one to which somebody goes back stands where it was left.
  if (isNew && route.peek() !== before) scrollTo(0, 0);
  requestAnimationFrame(keepFocus);
});
