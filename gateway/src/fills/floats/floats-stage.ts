import type { Act, ActRefused } from "../../acts/index.ts";
import { compileLine } from "../../line/index.ts";
import { type CurrentMeasurement, edgesCell, type Proof, proofCell } from "../../measurements/index.ts";
import type { PathEvent, Records, Stage, StageContext } from "../../path/index.ts";
import { say } from "../../words/index.ts";
import { floatCell, witnessCell } from "../cells.ts";
import type { Fill } from "../fill.ts";
import type { FloatChanged, FloatNow } from "./float-now.ts";
import { type FloatPlace, firstHeard, takeFill, takeProof, takeState } from "./follow-float.ts";

type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };
type Heard = CurrentMeasurement | Proof | Fill | Acted;
type Context = StageContext<FloatChanged>;
type Places = ReadonlyMap<string, FloatPlace>;

/** A float that was seen to work is never turned by a test that began while it was up. */
function refusalOf(act: Act, ctx: Context): ActRefused | null {
  if (act.type !== "proof-start" && act.type !== "proof-turn") return null;
  const now = ctx.get(floatCell, act.float);
  if (!now || now.provedAtMs === null) return null;
  if (act.type === "proof-turn") return { code: "not-possible-in-state", message: say("proved-as-it-reads") };
  return now.wet === true ? { code: "not-possible-in-state", message: say("float-reads-wet") } : null;
}

/** Of each float: when it was proved, by when it wants to be, where it trips, what passed it unmoved. */
export function createFloatsStage(): Stage<Heard, FloatChanged> {
  let places: Places = new Map();
  let ofDrum: ReadonlyMap<string, readonly FloatPlace[]> = new Map();

  type Next = (now: FloatNow, place: FloatPlace) => FloatNow;
  /** `firstMs`: it tells that the float was there then, also where nothing was known of it; null: it does not. */
  function change(id: string, ctx: Context, next: Next, firstMs: number | null = ctx.nowMs): void {
    const place = places.get(id);
    if (!place) return;
    const known = ctx.get(floatCell, id);
    if (!known && firstMs === null) return;
    const after = next(known ?? firstHeard(place, firstMs ?? ctx.nowMs), place);
    if (after === known) return;
    ctx.put(floatCell, id, after);
    ctx.tell({ kind: "float-now", float: id });
  }

  function seed(records: Records, ctx: Context): void {
    for (const proof of records.last("proof") as Proof[])
      if (places.get(proof.float)?.float.channel === proof.channel)
        change(proof.float, ctx, (now, place) => takeProof(now, place, proof), proof.startedAtMs);
    for (const fill of records.list("fill", 20) as Fill[])
      for (const { float } of ofDrum.get(fill.drum) ?? [])
        change(
          float.id,
          ctx,
          (now, place) => takeFill(now, place, { ...fill, revision: 0 }, undefined),
          fill.startedAtMs,
        );
  }

  return {
    name: "floats",
    version: 1,
    owns: [floatCell],
    reads: [witnessCell, edgesCell, proofCell],
    acts: ["proof-start", "proof-turn"],
    admit: refusalOf,
    hears: {
      current({ measurement: { subject, quantity, value, flag, tMs, channel } }, ctx) {
        if (subject.kind !== "float" || quantity !== "state" || value === null || flag === 4) return;
        change(subject.id, ctx, (now) =>
          takeState(now, value === 1, tMs, ctx.get(edgesCell, channel) ?? null),
        );
      },
      proof(proof, ctx) {
        change(proof.float, ctx, (now, place) => takeProof(now, place, proof));
      },
      fill(fill, ctx) {
        const said = ctx.get(witnessCell, fill.drum);
        for (const { float } of ofDrum.get(fill.drum) ?? [])
          change(float.id, ctx, (now, place) => takeFill(now, place, fill, said), null);
      },
    },
    useLine(line, _was, ctx) {
      const { floats, settingsOf } = compileLine(line);
      places = new Map(
        [...floats].map(([id, { float, drum }]) => {
          const { days } = settingsOf("float-unproven", id);
          return [id, { float, drum, days: typeof days === "number" ? days : null }];
        }),
      );
      ofDrum = Map.groupBy(places.values(), ({ drum }) => drum.id);
      for (const [id, { firstMs }] of [...ctx.entries(floatCell)]) {
        const place = places.get(id);
        // What another contact showed of it is no proof of this one.
        const { contactSinceMs = 0 } = ctx.get(proofCell, id) ?? {};
        if (!place) ctx.put(floatCell, id, undefined);
        else if (contactSinceMs > firstMs) change(id, ctx, () => firstHeard(place, contactSinceMs));
      }
    },
    // Everything is in the cell.
    dirty: () => [],
    load: (_rows, fromVersion) => fromVersion <= 1,
    seed,
  };
}
