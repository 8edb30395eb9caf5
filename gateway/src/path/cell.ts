/**
 * A cell of the board: what is now, one value for each subject. Written by the one stage that owns it, read by later
 * ones and by views. Values are plain data (structured clone) and are replaced, never changed in place.
 */
export interface Cell<Value> {
  readonly name: string;
  /** Its number among the cells of the program: whoever may look at it is asked by that, many times for each pack. */
  readonly number: number;
  /** Never there: carries the type of the values. */
  readonly values?: Value;
}

let defined = 0;

/** Names a cell. The name is unique on the path, and is the key under which its values are kept. */
export function defineCell<Value>(name: string): Cell<Value> {
  defined += 1;
  return Object.freeze({ name, number: defined });
}
