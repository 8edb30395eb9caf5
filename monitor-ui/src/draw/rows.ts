import type { LineDrawing, LinePictures } from "@drumlin/gateway/contract";

type Stage = LinePictures["items"][number]["stages"][number];
type Drum = LinePictures["items"][number]["drums"][number];

/** What a person taps in the drawing. */
export interface Part {
  readonly kind: "point" | "stage" | "drum";
  readonly id: string;
}

/** One row of the drawing, from the supply down: a part, and how far it stands off the main pipe. */
export interface Row extends Part {
  readonly title: string;
  readonly depth: number;
}

interface Drawn {
  readonly points: readonly { readonly id: string; readonly title: string }[];
  readonly stages: readonly Stage[];
  readonly drums: readonly Drum[];
}

/** Whether two parts are the same. */
export const isSame = (a: Part | null, b: Part | null) => a?.kind === b?.kind && a?.id === b?.id;

/** A line from the supply down: each point, the drums that it fills, then what its water goes on through. */
export function rowsOf({ points, stages, drums }: Drawn): Row[] {
  const rows: Row[] = [];
  const passed = new Set<string>();
  const walk = (id: string, depth: number): void => {
    if (passed.has(id)) return;
    passed.add(id);
    const title = points.find((point) => point.id === id)?.title ?? id;
    rows.push({ kind: "point", id, title, depth });
    for (const drum of drums.filter(({ fedBy }) => fedBy === id))
      rows.push({ kind: "drum", id: drum.id, title: drum.title, depth: depth + 1 });
    const onward = stages.filter(({ from }) => from === id);
    onward.forEach((stage, at) => {
      // The last way goes on straight, others stand off.
      const own = at === onward.length - 1 ? depth : depth + 1;
      rows.push({ kind: "stage", id: stage.id, title: stage.title, depth: own });
      walk(stage.to, own);
    });
  };
  for (const { id } of points) if (!stages.some(({ to }) => to === id)) walk(id, 0);
  return rows;
}

/** Whether the pipe beside a drum's row goes on behind it: another drum hangs there, or the water goes on. */
export function goesOn(rows: readonly Row[], at: number): boolean {
  const depth = (rows[at]?.depth ?? 0) - 1;
  const next = rows[at + 1];
  return next !== undefined && next.kind !== "point" && next.depth >= depth;
}

/** Parts of the pipe in a picture, left to right, and after which of them a drum hangs (0: at the supply). */
export function chainOf({ stages, drums }: Pick<Drawn, "stages" | "drums">) {
  const rows = rowsOf({ points: [{ id: "supply", title: "" }], stages, drums });
  let after = 0;
  const kinds: string[] = [];
  const hung: number[] = [];
  for (const row of rows) {
    if (row.kind === "stage") {
      after += 1;
      kinds.push(stages.find(({ id }) => id === row.id)?.kind ?? "other");
    } else if (row.kind === "drum") hung.push(after);
  }
  return { kinds, hung };
}

/** A name that nothing of a kind has yet: "drum", "drum-2" … */
function freeName(wanted: string, taken: readonly { readonly id: string }[]): string {
  for (let at = 1; ; at += 1) {
    const name = at === 1 ? wanted : `${wanted}-${at}`;
    if (!taken.some(({ id }) => id === name)) return name;
  }
}

/** One change of the line file. */
export interface Edit {
  readonly at: readonly string[];
  readonly to: string | number | boolean | null | Readonly<Record<string, string | number | boolean>>;
}

/** A filter after a point: what came after the point comes after the filter; drums that hang at the point stay. */
export function addedStage(drawing: LineDrawing, point: string, kind: Stage["kind"]): Edit[] {
  const id = freeName(kind, drawing.stages);
  const to = freeName(`after-${id}`, drawing.points);
  return [
    {
      at: ["stages", id],
      to: { kind, from: point, to, ...(kind === "resin" ? { vessel: "8 L" } : {}) },
    },
    ...drawing.stages
      .filter(({ from }) => from === point)
      .map((stage): Edit => ({ at: ["stages", stage.id, "from"], to })),
  ];
}

/** A drum at a point. */
export function addedDrum(drawing: LineDrawing, point: string): Edit[] {
  const id = freeName("drum", drawing.drums);
  return [{ at: ["drums", id], to: { volume: "200 L", fed_by: point, control: "automatic" } }];
}

/** A part is taken out: what hung behind a filter hangs before it then. */
export function takenOut(drawing: LineDrawing, { kind, id }: Part): Edit[] {
  if (kind === "drum") return [{ at: ["drums", id], to: null }];
  const stage = drawing.stages.find((one) => one.id === id);
  if (!stage) return [];
  const isLastWay = !drawing.stages.some((one) => one.id !== id && one.to === stage.to);
  return [
    { at: ["stages", id], to: null },
    ...(isLastWay
      ? [
          ...drawing.stages
            .filter(({ from }) => from === stage.to)
            .map((one): Edit => ({ at: ["stages", one.id, "from"], to: stage.from })),
          ...drawing.drums
            .filter(({ fedBy }) => fedBy === stage.to)
            .map((one): Edit => ({ at: ["drums", one.id, "fed_by"], to: stage.from })),
          { at: ["points", stage.to], to: null },
          { at: ["limits", `resin-breakthrough:${stage.to}`], to: null },
          { at: ["limits", `membrane-passing:${stage.to}`], to: null },
        ]
      : []),
  ];
}
