import { signal } from "@preact/signals";

/** The page that the address names after its #; "" is the Line. */
export const route = signal(location.hash.slice(1));

addEventListener("hashchange", () => {
  route.value = location.hash.slice(1);
});
