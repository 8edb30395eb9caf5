/** What a node of Saltmarsh House says, as an entry of the journal. */
export const nodeSays = (node: string, what: "readings" | "presence", said: unknown) => ({
  kind: "message" as const,
  topic: `drumlin/1/saltmarsh-house/${node}/${what}`,
  payload: new TextEncoder().encode(JSON.stringify(said)),
});

/** What the press room's node reads. */
interface PressRoom {
  /** After resin, uS/cm; at 25 °C where nothing is said of temperatures. */
  readonly kappa: number;
  readonly flowLPerMin: number;
  /** Of the supply and after resin, °C. */
  readonly celsius?: readonly [supply: number, afterResin: number];
}

/** A pack of that node: supply water of 400 uS/cm, and what came of it. */
export const pressPack = ({ kappa, flowLPerMin, celsius = [25, 25] }: PressRoom) => [
  { n: "t-1", u: "Cel", v: celsius[0] },
  { n: "t-2", u: "Cel", v: celsius[1] },
  { n: "ec-1", u: "S/m", v: 0.04 },
  { n: "ec-2", u: "S/m", v: kappa * 1e-4 },
  { n: "flow-1", u: "m3/s", v: flowLPerMin / 60_000 },
];
