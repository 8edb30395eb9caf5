/** One command: gives its exit code (0 ok, 1 found something wrong, 2 usage). */
export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** The whole help text. */
  readonly help: string;
  /** Help of one thing that the arguments name; null for the whole. */
  helpOf?(args: readonly string[]): string | null;
  run(args: readonly string[]): Promise<number>;
}
