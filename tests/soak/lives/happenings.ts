import type { Life } from "../../acceptance/outside-life.ts";
import { at, drawn } from "../../acceptance/outside-plans.ts";
import type { Draw } from "./draw.ts";

type Name = "press" | "tubs";
type Events = readonly ReturnType<typeof at>[];
type Records = Parameters<Life["press"]["alter"]>[0];

/** Something that happens in a life, in words and as events; what it brings into doubt. */
export interface Happening {
  readonly says: string;
  readonly events: Events;
  /** Water over the limit ran. */
  readonly isBad?: true;
  /** What was sent meanwhile is gone for good. */
  readonly isLost?: true;
}

/** A bucket, now and then a large water change. */
export function draw({ whole, of, chance }: Draw, fromS: number, tub: string): Happening {
  const litres = chance(0.1) ? whole(60, 120) : whole(6, 38);
  const perMin = of([10, 22, 40]);
  return {
    says: `${fromS} s: ${litres} L drawn from ${tub}, ${perMin} L/min`,
    events: [at(fromS, drawn(litres, perMin, tub))],
  };
}

/** The resin lets more through for a while, uS/cm. */
export function badWater({ whole, of }: Draw): Happening {
  const [fromS, forS, kappa] = [whole(0, 10_000), of([90, 300, 900, 2400, 9000]), of([14, 30, 60, 150, 390])];
  return {
    says: `${fromS} s: water of ${kappa} uS/cm for ${forS} s`,
    isBad: true,
    events: [
      at(fromS, ({ house }) => Object.assign(house, { good: kappa })),
      at(fromS + forS, ({ house }) => Object.assign(house, { good: 0.2 })),
    ],
  };
}

interface Silence {
  readonly names: readonly Name[];
  readonly fromS: number;
  readonly toS: number;
  readonly packsPerS: number;
  readonly first: Name | null;
  readonly isLost: boolean;
}

/** Nodes that are not heard; what they kept comes oldest first, so many packs a second, one node's first or both at once. */
function unheard({ names, fromS, toS, packsPerS, first, isLost }: Silence): Events {
  const kept: Record<Name, Records[]> = { press: [], tubs: [] };
  const sendKept = (life: Life, name: Name, atS: number) => {
    for (const records of kept[name].splice(0, packsPerS)) life.bench.node(name, records, atS);
    if (kept[name].length === 0) life[name].carry = (records, send) => send(records);
  };
  return [
    at(fromS, (life) => {
      for (const name of names) {
        kept[name] = [];
        life[name].carry = (records) => !isLost && kept[name].push(records);
      }
    }),
    at(toS, (life) => {
      for (const name of names) if (kept[name].length === 0) sendKept(life, name, toS);
    }),
    ...Array.from({ length: 900 }, (_, index) =>
      at(toS + index, (life, atS) => {
        if (atS < life.downUntilS) return;
        const waits = first !== null && names.includes(first) && kept[first].length > 0;
        for (const name of names)
          if (kept[name].length > 0 && (!waits || name === first)) sendKept(life, name, atS);
      }),
    ),
  ];
}

/** By then everybody is heard again: what was kept comes in within the life, and has time to be believed. */
const lastBackS = 11_000;

/** One node or both are away for a while. */
export function silence({ whole, of, chance }: Draw): Happening {
  const names = of<readonly Name[]>([["press"], ["tubs"], ["press", "tubs"]]);
  const [forS, isLost] = [of([60, 200, 600, 1800, 5400]), chance(0.4)];
  const fromS = whole(0, lastBackS - forS);
  const [packsPerS, first] = [of([3, 9, 40]), of<Name | null>([null, "press", "tubs"])];
  const ends = isLost ? "and lost it" : `kept it, ${packsPerS} packs/s, ${first ?? "nobody"} first`;
  return {
    says: `${fromS} s: ${names.join(" and ")} away for ${forS} s, ${ends}`,
    ...(isLost ? { isLost: true } : {}),
    events: unheard({ names, fromS, toS: fromS + forS, packsPerS, first, isLost }),
  };
}

/** The gateway is down for a while; its nodes keep what they have, or don't. */
export function restart({ whole, of, chance }: Draw): Happening {
  const [forS, isLost] = [of([5, 60, 600, 3000]), chance(0.4)];
  const fromS = whole(0, lastBackS - forS);
  const stops = at(fromS, (life, atS) => {
    life.bench.restart(atS + forS);
    life.downUntilS = atS + forS;
  });
  const names: readonly Name[] = ["press", "tubs"];
  const kept = { names, fromS, toS: fromS + forS + 2, packsPerS: 20, first: null, isLost };
  return {
    says: `${fromS} s: the gateway is down for ${forS} s, the nodes ${isLost ? "lost" : "kept"} it`,
    ...(isLost ? { isLost: true } : {}),
    events: [stops, ...(isLost ? [] : unheard(kept))],
  };
}

/** A node begins anew; it had nothing to keep. */
export function reboot({ whole, of }: Draw): Happening {
  const [fromS, name] = [whole(0, 10_000), of<Name>(["press", "tubs"])];
  return {
    says: `${fromS} s: ${name} begins anew`,
    events: [
      at(fromS, (life, atS) =>
        Object.assign(life[name], { boot: life[name].boot + 40, sinceS: atS, seq: 0 }),
      ),
    ],
  };
}
