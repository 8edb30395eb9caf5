import { type FieldShape, type Formula, shapesOf } from "@drumlin/gateway/water";
import type { Draw } from "./draw.ts";

/** One call of a formula, and whether it has to be refused: one of its inputs is none that the formula takes. */
export interface Call {
  readonly formula: Formula;
  readonly given: Readonly<Record<string, unknown>>;
  readonly mustRefuse: boolean;
}

const unitTexts = [
  "uS/cm",
  "mS/cm",
  "MOhm.cm",
  "L",
  "gal",
  "m",
  "Cel",
  "F",
  "K",
  "kPa",
  "mg/L",
  "dH",
  "meq/L",
  "h",
];
const nonsense = [
  "",
  "a trace",
  "1,413",
  "1.2.3",
  "1e999",
  "12 furlong",
  "NaN",
  "Infinity",
  "--3",
  "3 uS/cm/L",
];
const strange: readonly unknown[] = [
  Number.NaN,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  {},
  [[]],
  true,
  ...nonsense,
];

function goodNumber(shape: FieldShape, draw: Draw): number {
  const { min, max } = shape;
  const between = min + (max - min) * draw.share();
  const size = 10 ** (-6 + 12 * draw.share());
  const near = Math.min(max, Math.max(min, draw.once(2) ? min + size : size));
  const value = draw.of([
    min,
    max,
    (min + max) / 2,
    between,
    between,
    near,
    near,
    Math.min(max, Math.max(min, 0)),
  ]);
  return shape.whole ? Math.min(max, Math.max(min, Math.round(value))) : value;
}

/** A value that the field takes. Lists of one call have one length, mostly. */
function good(shape: FieldShape, draw: Draw, length: number): unknown {
  switch (shape.kind) {
    case "number": {
      if (shape.nullable && draw.once(6)) return null;
      const value = goodNumber(shape, draw);
      // A specific gravity is refused for a salinity unless it says what it is.
      if (shape.unit === "{PSU}" && value > 1 && value <= 1.05) return `${value} PSU`;
      const unit = shape.unit === "1" ? "" : ` ${shape.unit}`;
      return draw.once(4) && !/,/.test(String(value)) ? `${value}${unit}` : value;
    }
    case "words":
      return draw.of(shape.words);
    case "flag":
      return draw.once(2);
    case "list": {
      const count = Math.min(shape.most, Math.max(shape.fewest, draw.once(8) ? draw.below(9) : length));
      return Array.from({ length: count }, () => good(shape.item as FieldShape, draw, length));
    }
    case "record":
      return Object.fromEntries([...shape.fields].map(([name, field]) => [name, good(field, draw, length)]));
    case "text":
      return draw.of(unitTexts);
  }
}

/** A list whose numbers rise: what tables and times have to do. */
function risen(value: unknown): unknown {
  return Array.isArray(value) && value.every((item) => typeof item === "number")
    ? value.toSorted((one: number, other: number) => one - other)
    : value;
}

function badNumbers({ min, max, whole }: FieldShape): unknown[] {
  const step = (value: number) => Math.max(Math.abs(value) * 1e-9, 1e-9);
  return [
    min - step(min),
    min - 1,
    max + step(max),
    max * 2 + 1,
    -1e300,
    1e300,
    ...(whole ? [min + 0.5] : []),
  ];
}

/** A value that the field has to refuse. */
function bad(shape: FieldShape, draw: Draw): unknown {
  switch (shape.kind) {
    case "number":
      return draw.of([...badNumbers(shape), ...strange, ...(shape.nullable ? [] : [null])]);
    case "words":
      return draw.of<unknown>(["none of them", 5.5, null, {}, []]);
    case "flag":
      return draw.of<unknown>(["perhaps", 1, null, {}]);
    case "list": {
      const item = shape.item as FieldShape;
      const few = Math.max(1, shape.fewest);
      const filled = (count: number, value: unknown) => Array.from({ length: count }, () => value);
      const lists: unknown[] = [null, 5, {}, "1,2,3", filled(few, bad(item, draw))];
      if (shape.fewest > 0) lists.push([], "");
      if (shape.most < 10_000) lists.push(filled(shape.most + 1, good(item, draw, 1)));
      return draw.of(lists);
    }
    case "record":
      return draw.of<unknown>([null, [], {}, "no object"]);
    case "text":
      return draw.of<unknown>([null, 5, {}, "", "x".repeat(1000)]);
  }
}

/** A call whose every input lies in its own range; what inputs may not be together is for the formula to say. */
function goodCall(formula: Formula, draw: Draw): Record<string, unknown> {
  const given: Record<string, unknown> = draw.once(3) ? { ...formula.example } : {};
  const length = draw.once(40) ? 1000 : 2 + draw.below(12);
  const rise = draw.once(2);
  for (const [name, shape] of shapesOf(formula.inputs)) {
    const keep = name in given ? !draw.once(3) : !shape.needed && draw.once(2);
    if (keep) continue;
    const value = good(shape, draw, length);
    given[name] = rise ? risen(value) : value;
  }
  return given;
}

/** One call: half of them with one input that has to be refused. */
export function drawCall(formula: Formula, draw: Draw): Call {
  const given = goodCall(formula, draw);
  if (draw.once(2)) return { formula, given, mustRefuse: false };
  const shapes = [...shapesOf(formula.inputs)];
  if (draw.once(12)) return { formula, given: { ...given, colour: 3 }, mustRefuse: true };
  const [name, shape] = draw.of(shapes);
  if (shape.needed && draw.once(8)) {
    delete given[name];
    return { formula, given, mustRefuse: true };
  }
  return { formula, given: { ...given, [name]: bad(shape, draw) }, mustRefuse: true };
}
