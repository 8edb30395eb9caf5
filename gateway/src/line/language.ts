/** Languages in which messages and pages are written, ISO 639-1. */
export const languages = ["en", "de"] as const;
export type Language = (typeof languages)[number];
