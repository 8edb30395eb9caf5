import { type Line, readLine } from "@drumlin/gateway/line";
import fc from "fast-check";

/** Names that are also keys of every object, among names that are not: no table may trip over them. */
const names = ["constructor", "valueof", "supply", "a", "b", "c", "d", "e", "f", "g", "h"] as const;
const stageNames = ["constructor", "s1", "s2", "s3", "s4", "s5", "s6", "s7", "s8", "s9", "s10"] as const;
const drumNames = ["constructor", "mix", "fresh", "reserve"] as const;
const kinds = ["sediment", "carbon", "membrane", "resin", "other"] as const;

/** What a point of a random line has, and how it hangs on those before it. */
const point = fc.record({
  from: fc.nat(),
  kind: fc.constantFrom(...kinds),
  isDoubled: fc.boolean(),
  hasProbe: fc.boolean(),
  hasTemperature: fc.boolean(),
  meter: fc.constantFrom("none", "point", "stage", "flows", "both"),
  isDeclared: fc.boolean(),
});
const drum = fc.record({
  fedBy: fc.nat(),
  control: fc.constantFrom("automatic", "manual"),
  roles: fc.subarray(["stop", "start", "overflow", "low"] as const),
  hasLevel: fc.boolean(),
  hasInlet: fc.boolean(),
  hasTemperature: fc.boolean(),
});
type PointPlan = (typeof point extends fc.Arbitrary<infer Plan> ? Plan : never) & { readonly id: string };
type DrumPlan = typeof drum extends fc.Arbitrary<infer Plan> ? Plan : never;

function fileOf(points: readonly PointPlan[], drums: readonly DrumPlan[]) {
  const file = {
    drumlin: 1,
    site: "saltmarsh-house",
    points: {} as Record<string, object>,
    stages: {} as Record<string, object>,
    flows: {} as Record<string, string>,
    drums: {} as Record<string, object>,
  };
  for (const [index, plan] of points.entries()) {
    const { id } = plan;
    const from = index === 0 ? null : (points[plan.from % index] as PointPlan).id;
    const channels = {
      ...(plan.hasProbe ? { conductivity: `press/ec-${id}` } : {}),
      ...(plan.hasTemperature ? { temperature: `press/t-${id}` } : {}),
      ...(plan.meter === "point" || plan.meter === "both" ? { flow: `press/flow-${id}` } : {}),
    };
    // A point that only its stages name has no channels of its own.
    if (plan.isDeclared || from === null || Object.keys(channels).length > 0) file.points[id] = channels;
    if (plan.meter === "flows") file.flows[id] = `press/flow-${id}`;
    if (from === null) continue;
    const byStage = plan.meter === "stage" || plan.meter === "both" ? { flow: `press/meter-${id}` } : {};
    file.stages[stageNames[index] as string] = { kind: plan.kind, from, to: id, ...byStage };
    if (plan.isDoubled) file.stages[`${stageNames[index]}-2`] = { kind: plan.kind, from, to: id };
  }
  for (const [index, plan] of drums.entries()) {
    const id = drumNames[index] as string;
    file.drums[id] = {
      volume: "200 L",
      fed_by: (points[plan.fedBy % points.length] as PointPlan).id,
      control: plan.control,
      floats: Object.fromEntries(plan.roles.map((role) => [role, `drums/${role}-${id}`])),
      ...(plan.hasLevel ? { level: { channel: `drums/level-${id}`, as: "volume" } } : {}),
      ...(plan.hasInlet ? { inlet: { channel: `drums/inlet-${id}` } } : {}),
      ...(plan.hasTemperature ? { temperature: `drums/t-${id}` } : {}),
    };
  }
  return file;
}

/** Files of up to 11 points and 4 drums in every shape that a tree of water can have. JSON is YAML too. */
export const randomFile: fc.Arbitrary<string> = fc
  .tuple(
    fc.shuffledSubarray([...names], { minLength: 1 }),
    fc.array(point, { minLength: 11, maxLength: 11 }),
    fc.array(drum, { maxLength: drumNames.length }),
  )
  .map(([ids, plans, drums]) => {
    const points = ids.map((id, index) => ({ ...(plans[index] as Omit<PointPlan, "id">), id }));
    return JSON.stringify(fileOf(points, drums));
  });

/** The lines of such files. */
export const randomLine: fc.Arbitrary<Line> = randomFile.map((text) => {
  const read = readLine(text);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.line;
});
