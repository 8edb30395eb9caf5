import { ammoniaFormulas } from "./ammonia.ts";
import { breakthroughFormulas } from "./breakthrough.ts";
import { carbonFormulas } from "./carbon.ts";
import { carbonateFormulas } from "./carbonate.ts";
import { chlorineFormulas } from "./chlorine.ts";
import { conductivityFormulas } from "./conductivity.ts";
import { dechlorinationFormulas } from "./dechlorination.ts";
import { driftChartFormulas } from "./drift-charts.ts";
import { drumShapeFormulas } from "./drum-shapes.ts";
import type { Formula } from "./formula.ts";
import { ionFactorFormulas } from "./ion-factors.ts";
import { ionFormulas } from "./ions.ts";
import { levelSensorFormulas } from "./level-sensors.ts";
import { membraneFormulas } from "./membrane.ts";
import { osmosisFormulas } from "./osmosis.ts";
import { purityFormulas } from "./purity.ts";
import { remineralisationFormulas } from "./remineralisation.ts";
import { resinFormulas } from "./resin.ts";
import { salinityScaleFormulas } from "./salinity-scales.ts";
import { saltBatchFormulas } from "./salt-batch.ts";
import { seaWaterFormulas } from "./sea-water.ts";
import { sensorCheckFormulas } from "./sensor-checks.ts";
import { standardFormulas } from "./standards.ts";
import { statisticsFormulas } from "./statistics.ts";
import { temperatureSensorFormulas } from "./temperature-sensors.ts";
import { unitFormulas } from "./units.ts";

/** Every formula that can be asked for by name, by topic. */
export const formulas: readonly Formula[] = [
  ...conductivityFormulas,
  ...ammoniaFormulas,
  ...chlorineFormulas,
  ...dechlorinationFormulas,
  ...ionFormulas,
  ...ionFactorFormulas,
  ...carbonateFormulas,
  ...remineralisationFormulas,
  ...purityFormulas,
  ...standardFormulas,
  ...unitFormulas,
  ...seaWaterFormulas,
  ...salinityScaleFormulas,
  ...statisticsFormulas,
  ...driftChartFormulas,
  ...sensorCheckFormulas,
  ...temperatureSensorFormulas,
  ...levelSensorFormulas,
  ...drumShapeFormulas,
  ...saltBatchFormulas,
  ...resinFormulas,
  ...breakthroughFormulas,
  ...membraneFormulas,
  ...osmosisFormulas,
  ...carbonFormulas,
];
