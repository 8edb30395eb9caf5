import { signal } from "@preact/signals";

/** What came of an act whose sheet has closed: said once to whoever hears the page. */
export const announced = signal("");
