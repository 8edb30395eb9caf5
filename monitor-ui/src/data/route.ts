import { computed, signal } from "@preact/signals";

const address = signal(location.hash.slice(1));

/** The page that the address names after its #; "" is the Line. */
export const route = computed(() => address.value.split("?")[0] ?? "");
/** What stands behind the page's name in the address. */
export const query = computed(() => new URLSearchParams(address.value.split("?")[1] ?? ""));

/** Shows a page; what it shows stands in the address, so that it can be sent to somebody. */
export function goTo(page: string, parameters: Readonly<Record<string, string>> = {}): void {
  const text = Object.entries(parameters)
    .map(([name, value]) => `${name}=${value}`)
    .join("&");
  location.hash = text === "" ? page : `${page}?${text}`;
}

addEventListener("hashchange", () => {
  address.value = location.hash.slice(1);
});
