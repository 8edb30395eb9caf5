import type { AlarmChange } from "@drumlin/gateway/alarms";
import type { Column } from "./resin-column.ts";
import { Gateway, type Node, type Pack, type Said, startMs } from "./waterworks-gateway.ts";

type OfTime<T> = T | ((atS: number) => T);
const now = <T>(given: OfTime<T> | undefined, atS: number, usual: T): T =>
  given === undefined ? usual : typeof given === "function" ? (given as (atS: number) => T)(atS) : given;

/** A drum as it truly is. */
interface Tank {
  readonly volumeL?: number;
  readonly startL?: number;
  readonly startKappa?: number;
  readonly tripL?: number;
  readonly releaseL?: number;
  /** Taken out, L/min. */
  readonly draw?: OfTime<number>;
  /** Carried in by hand, L/min, and its κ25. */
  readonly poured?: OfTime<number>;
  readonly pouredKappa?: number;
  /** Whether its way in is open; as its float says if not said. */
  readonly opens?: (atS: number, isWet: boolean) => boolean;
  /** L/min while it is open, and what passes while it is shut. */
  readonly flow?: number;
  readonly leak?: OfTime<number>;
}

/** The works as they truly are, and what is wrong with what is said of them. */
export interface Works {
  readonly line: string;
  readonly tanks: Readonly<Record<string, Tank>>;
  /** What makes the water; good water if not said. */
  readonly column?: Column;
  /** κ25 of the supply and of what comes out (where no column makes it), uS/cm. */
  readonly supply?: OfTime<number>;
  readonly out?: OfTime<number>;
  readonly periodS?: number;
  readonly labels?: boolean;
  readonly counters?: boolean;
  /** The word is judged by this, uS/cm. */
  readonly band?: number;
  /** What the nodes say of what they see: records by channel; a channel that is taken out says nothing. */
  readonly says?: (node: Node, atS: number, records: Said) => Said;
  /** Not heard at these times; kept for later if `keeps`. */
  readonly away?: (atS: number, node: Node) => boolean;
  readonly keeps?: boolean;
  /** The node is off at these times, and begins a new boot after. */
  readonly off?: (atS: number, node: Node) => boolean;
  /** Made of each pack as it goes out: none, one, or several. */
  readonly sends?: (pack: Pack, atS: number) => readonly Pack[];
}

const isOfNodes = ({ condition }: { readonly condition: string }) =>
  condition === "node-silent" || condition === "site-silent";

/** The works, lived through second by second and told to a gateway. */
export function worksOf(works: Works) {
  const gateway = new Gateway(works.line);
  const periodS = works.periodS ?? 30;
  const hasLabels = works.labels !== false;
  const tanks = new Map(
    Object.entries(works.tanks).map(([id, tank]) => {
      const volumeL = tank.volumeL ?? 200;
      const startL = tank.startL ?? 2;
      const set = {
        tank,
        volumeL,
        tripL: tank.tripL ?? 0.9 * volumeL,
        releaseL: tank.releaseL ?? 0.8 * volumeL,
        litres: startL,
        kappa: tank.startKappa ?? 0.2,
        isWet: startL >= (tank.tripL ?? 0.9 * volumeL),
        changes: 0,
        overAtS: null as number | null,
        liedS: 0,
        worstUsed: 0,
        goodS: 0,
        usedS: 0,
      };
      return [id, set] as const;
    }),
  );
  const nodes = new Map<Node, { boot: number; seq: number; sinceS: number; wasOff: boolean; kept: Pack[] }>();
  for (const node of ["press", "drums"] as const)
    nodes.set(node, { boot: 11, seq: 0, sinceS: -100, wasOff: false, kept: [] });
  let [atS, flow, totalL, outKappa, heard] = [0, 0, 0, 0.2, 0];
  const words = new Map<string, string>();

  function physics(): void {
    flow = 0;
    for (const one of tanks.values()) {
      const isOpen = one.tank.opens ? one.tank.opens(atS, one.isWet) : !one.isWet;
      flow += isOpen ? (one.tank.flow ?? 4) : now(one.tank.leak, atS, 0);
    }
    const supply = now(works.supply, atS, 400);
    outKappa = works.column ? works.column.pass(flow / 60, supply) : now(works.out, atS, 0.2);
    totalL += flow / 60;
    for (const one of tanks.values()) {
      const { tank } = one;
      const isOpen = tank.opens ? tank.opens(atS, one.isWet) : !one.isWet;
      const inL = (isOpen ? (tank.flow ?? 4) : now(tank.leak, atS, 0)) / 60;
      const byHandL = now(tank.poured, atS, 0) / 60;
      const whole = one.litres + inL + byHandL;
      if (inL + byHandL > 0)
        one.kappa = (one.litres * one.kappa + inL * outKappa + byHandL * (tank.pouredKappa ?? 400)) / whole;
      one.litres = Math.max(0, whole - now(tank.draw, atS, 0) / 60);
      if (one.litres > one.volumeL) {
        one.overAtS ??= atS;
        one.litres = one.volumeL;
      }
      const before = one.isWet;
      if (one.litres >= one.tripL) one.isWet = true;
      if (one.litres <= one.releaseL) one.isWet = false;
      if (one.isWet !== before) one.changes += 1;
    }
  }

  function saidBy(node: Node): Said {
    if (node === "press")
      return {
        "t-1": 25,
        "t-2": 25,
        "ec-1": now(works.supply, atS, 400),
        "ec-2": outKappa,
        "flow-1": flow,
        ...(works.counters ? { "flow-1.total": totalL } : {}),
      };
    const said: Record<string, number | boolean> = {};
    for (const [id, one] of tanks) {
      said[`stop-${id}`] = one.isWet;
      if (works.counters) said[`stop-${id}.changes`] = one.changes;
      if (works.line.includes(`level-${id}`)) said[`level-${id}`] = one.litres;
    }
    return said;
  }

  function speak(node: Node): void {
    const state = nodes.get(node) as {
      boot: number;
      seq: number;
      sinceS: number;
      wasOff: boolean;
      kept: Pack[];
    };
    if (works.off?.(atS, node)) {
      state.wasOff = true;
      return;
    }
    if (state.wasOff) Object.assign(state, { boot: state.boot + 1, seq: 0, sinceS: atS - 3, wasOff: false });
    const seen = saidBy(node);
    const said = works.says ? works.says(node, atS, seen) : seen;
    const pack = { node, boot: state.boot, seq: state.seq, up: atS - state.sinceS, said, madeS: atS };
    state.seq += 1;
    const out = works.sends ? works.sends(pack, atS) : [pack];
    if (works.away?.(atS, node)) {
      if (works.keeps) state.kept.push(...out);
      gateway.push({ kind: "tick" }, atS);
      return;
    }
    let sentAt = atS;
    for (const one of [...state.kept.splice(0), ...out]) {
      sentAt += 0.004;
      gateway.send(one, sentAt, hasLabels);
    }
  }

  function listen(): void {
    for (; heard < gateway.outcomes.length; heard += 1) {
      const one = gateway.outcomes[heard];
      if (one?.kind === "drum-water") words.set(one.drum, one.verdict);
    }
  }

  function hear(): void {
    listen();
    const band = works.band ?? 10;
    for (const [id, one] of tanks) {
      const isUse = words.get(id) === "use";
      if (one.kappa > band && isUse) one.liedS += 1;
      if (isUse) one.worstUsed = Math.max(one.worstUsed, one.kappa);
      if (one.kappa <= band) {
        one.goodS += 1;
        if (isUse) one.usedS += 1;
      }
    }
  }

  const lived = {
    gateway,
    tanks,
    /** Lives on to a time, s. */
    live(toS: number): void {
      for (; atS < toS; atS += 1) {
        physics();
        if (atS % periodS === 0) speak("press");
        if ((atS + 7) % periodS === 0) speak("drums");
        hear();
      }
    },
    act: (type: string, more: object = {}) => gateway.act({ type, ...more }, atS),
    /** Emptied, which a person says, and filled up to its float: the works run on for 50 min. */
    fresh(drum = "mix"): void {
      lived.live(30);
      lived.act("release", { drum, reason: "dumped" });
      lived.live(3300);
    },
    word: (drum = "mix") => {
      listen();
      return words.get(drum) ?? null;
    },
    /** The worst water of which it said `use`, uS/cm. */
    worst: (drum = "mix") => tanks.get(drum)?.worstUsed ?? 0,
    words: (drum = "mix") =>
      gateway.outcomes.flatMap((one) =>
        one.kind === "drum-water" && one.drum === drum ? [one.verdict] : [],
      ),
    /** How long it said `use` of water over its band, s. */
    lied: (drum = "mix") => tanks.get(drum)?.liedS ?? 0,
    changes: () => gateway.outcomes.filter((one): one is AlarmChange => one.kind === "alarm"),
    /** Who was called for, each once, by its key. */
    called: () => [
      ...new Set(lived.changes().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.key] : []))),
    ],
    calledOfWater: () =>
      [
        ...new Set(
          lived
            .changes()
            .flatMap(({ annunciated, alarm }) => (annunciated && !isOfNodes(alarm) ? [alarm.key] : [])),
        ),
      ].sort(),
    calledAtS: (condition: string) => {
      const found = lived
        .changes()
        .find(({ annunciated, alarm }) => annunciated && alarm.condition === condition);
      return found ? (found.atMs - startMs) / 1000 : null;
    },
    raised: () => [
      ...new Set(lived.changes().flatMap(({ why, alarm }) => (why === "raised" ? [alarm.condition] : []))),
    ],
    standing: () => gateway.standing().map(({ key }) => key),
    alarm: (key: string) => gateway.standing().find((one) => one.key === key) ?? null,
    on(type: string, key: string, more: object = {}) {
      return lived.act(type, { key, occurrence: lived.alarm(key)?.occurrence ?? "", ...more });
    },
    nowS: () => atS,
    litresIn: () =>
      gateway.outcomes.reduce(
        (sum, one) => sum + (one.kind === "fill" && one.endedAtMs !== null ? (one.litres ?? 0) : 0),
        0,
      ),
    latest: (subject: string, quantity: string) =>
      gateway.outcomes.findLast(
        (one) => one.kind === "measurement" && one.quantity === quantity && one.subject.id === subject,
      ),
    share: (drum = "mix") => {
      const one = tanks.get(drum);
      return one ? one.usedS / Math.max(1, one.goodS) : 0;
    },
  };
  return lived;
}
