/** What a colleague would say on reading the file. */
export type Warn = (code: string, path: readonly PropertyKey[], message: string, instead: string) => void;
