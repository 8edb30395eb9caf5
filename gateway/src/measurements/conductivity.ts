import { practicalSalinity } from "../water/index.ts";
import { isAt25, resolutionOf } from "./announced.ts";
import { type Judged, worsen } from "./judged.ts";
import { judgeLife } from "./proof-of-life.ts";
import { compensated25, kappa25OfScale } from "./reference-conductivity.ts";
import { leavesSteadyPair, naturalStep } from "./spikes.ts";
import { type More, tell, type ValueStep } from "./step.ts";
import { compensationTemperature } from "./temperatures.ts";

/** Above this conductivity (uS/cm) salinity is told too: fresh water lies below (PSS-78 begins at salinity 2). */
const salinityFromUsPerCm = 2000;

function judgeSpike({ memory, slot, reading, value, judged }: ValueStep): void {
  const { compensation } = slot.use;
  // A fault is no spike, and pure water jumps: at first water, at a breakthrough.
  if (judged.flag === 4 || (compensation !== "natural" && compensation !== "linear")) return;
  if (leavesSteadyPair(memory.channel(slot.channel), { tMs: reading.tMs, value, step: naturalStep }))
    worsen(judged, 3, "spike");
}

/** What a conductivity becomes: κ as it is, κ25, and salinity where the water is salt; κ25 alone where it is at 25 °C. */
export function ofConductivity(step: ValueStep): void {
  const { memory, slot, reading, value, said, judged } = step;
  const { tMs } = reading;
  const resolution = resolutionOf(memory, slot);
  const isBelow = judgeLife(memory.channel(slot.channel), {
    use: slot.use,
    kappa: value,
    saidZero: said === 0,
    resolution,
    tMs,
    judged,
  });
  judgeSpike(step);
  const below: More | undefined = isBelow ? { belowResolution: true } : undefined;
  if (isAt25(memory, slot)) {
    tell(step, { quantity: "conductivity25", value, judged, more: below });
    return;
  }
  tell(step, { quantity: "conductivity", value, judged, more: below });
  const judged25: Judged = { flag: judged.flag, reasons: judged.reasons };
  const { tC, assumed } = compensationTemperature(memory, slot, tMs, judged25);
  const estimated: More | undefined = assumed ? { estimated: true } : undefined;
  const kappa25 = compensated25(slot.use, value, tC, judged25);
  tell(step, {
    quantity: "conductivity25",
    value: kappa25,
    judged: judged25,
    more: below && estimated ? { ...below, ...estimated } : (below ?? estimated),
  });
  const salinity = value > salinityFromUsPerCm ? practicalSalinity(value, tC) : null;
  if (slot.subject.kind === "drum" && judged25.flag !== 4)
    memory.takeSalinity(slot.subject.id, salinity ?? 0);
  if (salinity !== null)
    tell(step, { quantity: "salinity", value: salinity, judged: judged25, more: estimated });
}

/** What solids on a scale become: κ25, turned back by that scale. */
export function ofSolids(step: ValueStep): void {
  const { memory, slot, reading, value, said, judged, siteSolids } = step;
  const scale = slot.use.solidsScale ?? siteSolids;
  const kappa = kappa25OfScale(value, scale);
  if (kappa === null && value > 0) worsen(judged, 4, "over-range");
  const smallest = resolutionOf(memory, slot);
  const resolution = smallest === null ? null : kappa25OfScale(smallest, scale);
  const isBelow =
    kappa !== null &&
    judgeLife(memory.channel(slot.channel), {
      use: slot.use,
      kappa,
      saidZero: said === 0,
      resolution,
      tMs: reading.tMs,
      judged,
    });
  const more: More | undefined = isBelow ? { belowResolution: true } : undefined;
  tell(step, { quantity: "conductivity25", value: kappa, judged, more });
}
