/** Why a formula gave nothing. */
export type ComputeRefusal = "formula-unknown" | "input-not-understood" | "out-of-range" | "unit-mismatch";

/** An input that was refused before the formula ran. The message begins with the input's name. */
export class InputRefused extends Error {
  readonly code: ComputeRefusal;

  constructor(code: ComputeRefusal, message: string) {
    super(message);
    this.name = "InputRefused";
    this.code = code;
  }
}
