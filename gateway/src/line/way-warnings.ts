import { compileLine } from "./compile.ts";
import type { Line } from "./line.ts";
import type { Warn } from "./warn.ts";

/** Stages that begin at a point to which nothing leads and that no other stage shares with the supply. */
function warnOfLooseStages(line: Line, warn: Warn): void {
  const fed = new Set(line.stages.map(({ to }) => to));
  const roots = new Set(line.stages.filter(({ from }) => !fed.has(from)).map(({ from }) => from));
  if (roots.size < 2) return;
  for (const { id, from } of line.stages) {
    const point = line.points.find((each) => each.id === from);
    const hasChannel =
      point && (point.conductivity ?? point.temperature ?? point.flow ?? point.pressure) !== null;
    if (!roots.has(from) || hasChannel) continue;
    const others = line.points.map((each) => each.id).filter((each) => each !== from);
    warn(
      "stage-on-nothing",
      ["stages", id, "from"],
      `${id} begins at ${from}, and nothing leads there.`,
      `Points are ${others.join(", ")}.`,
    );
  }
}

/** Meters that several drums' water passes: which drum the litres are counted for is decided by who calls. */
function warnOfSharedMeters(line: Line, warn: Warn): void {
  const compiled = compileLine(line);
  const told = new Set<string>();
  for (const { meters } of compiled.drums.values()) {
    for (const { meter, sharedWith } of meters) {
      if (sharedWith.length === 0 || told.has(meter.point)) continue;
      told.add(meter.point);
      const drums = meter.drums.map((id) => compiled.drums.get(id)?.drum.title ?? id);
      warn(
        "meter-for-several",
        ["points", meter.point],
        `The meter at ${meter.point} counts the water of ${drums.join(" and ")}: its litres go to the drum that calls; while several do, they are divided by the drums' levels, else into equal parts.`,
        "Name a meter at a drum itself (flow: …) where each has one; else leave it so.",
      );
    }
  }
}

/** Warns of ways of the water that the file leaves open. */
export function warnOfWays(line: Line, warn: Warn): void {
  warnOfLooseStages(line, warn);
  warnOfSharedMeters(line, warn);
}
