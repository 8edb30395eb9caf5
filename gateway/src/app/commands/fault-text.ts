import type { LineFault } from "../../line/index.ts";

/** One fault as a line of text: `file:line:column: error code: message. instead`. */
export function faultText(file: string, fault: LineFault): string {
  return `${file}:${fault.line}:${fault.column}: ${fault.severity} ${fault.code}: ${fault.message} ${fault.instead}`;
}
