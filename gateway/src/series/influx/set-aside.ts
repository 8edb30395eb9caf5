import type { InfluxCode } from "./influx-outcome.ts";

/** Points of one measurement that the server will never take, for one reason. They stay in the gateway's own store. */
export interface SetAside {
  readonly code: InfluxCode;
  readonly measurement: string;
  readonly points: number;
  /** Times of the first and the last of them, epoch ms. */
  readonly fromMs: number;
  readonly toMs: number;
  /** The line of the first one. */
  readonly example: string;
  /** What the server said of it. */
  readonly said: string;
}

/** Kinds that are told apart; more are counted with the last one. */
const maxKinds = 50;
const maxText = 300;

const timeOf = (line: string) => Number(line.slice(line.lastIndexOf(" ") + 1));

/** Why lines were refused. */
type Refusal = Pick<SetAside, "code" | "said">;

function asideOf(line: string, { code, said }: Refusal): SetAside {
  const tMs = timeOf(line);
  return {
    code,
    measurement: line.slice(0, line.indexOf(",")),
    points: 1,
    fromMs: tMs,
    toMs: tMs,
    example: line.slice(0, maxText),
    said: said.slice(0, maxText),
  };
}

function together(a: SetAside, b: SetAside): SetAside {
  return {
    ...a,
    points: a.points + b.points,
    fromMs: Math.min(a.fromMs, b.fromMs),
    toMs: Math.max(a.toMs, b.toMs),
  };
}

/** What was set aside, by reason and measurement: bounded whatever comes, every point counted. */
export class SetAsides {
  private readonly kinds = new Map<string, SetAside>();

  constructor(known: readonly SetAside[] = []) {
    for (const one of known) this.add(one);
  }

  /** Takes lines that were refused. */
  addLines(lines: readonly string[], refusal: Refusal): void {
    for (const line of lines) this.add(asideOf(line, refusal));
  }

  /** Takes lines of which so many were refused, nobody knows which. */
  addSome(lines: readonly string[], points: number, { code, said }: Refusal): void {
    const first = lines[0];
    if (first === undefined) return;
    const times = lines.map(timeOf);
    const [fromMs, toMs] = [Math.min(...times), Math.max(...times)];
    this.add({ ...asideOf(first, { code, said }), points, fromMs, toMs });
  }

  add(one: SetAside): void {
    const own = `${one.code} ${one.measurement}`;
    const key = this.kinds.has(own) || this.kinds.size < maxKinds ? own : [...this.kinds.keys()].at(-1);
    const known = this.kinds.get(key as string);
    this.kinds.set(key as string, known ? together(known, one) : one);
  }

  list(): readonly SetAside[] {
    return [...this.kinds.values()];
  }

  get points(): number {
    return this.list().reduce((sum, { points }) => sum + points, 0);
  }
}
