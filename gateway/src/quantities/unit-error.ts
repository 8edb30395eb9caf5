/** A unit or a basis that does not fit: not known here, or of another kind than the one asked for. */
export class UnitError extends Error {
  readonly code: "unknown-unit" | "unit-mismatch" | "unknown-basis" | "basis-mismatch";

  constructor(code: UnitError["code"], message: string) {
    super(message);
    this.name = "UnitError";
    this.code = code;
  }
}
