export { createRandom } from "./random.ts";
export { saltmarshHouseYaml } from "./saltmarsh-house.ts";
export { createSimulatedNodes, type NodeMessage } from "./simulated-nodes.ts";
export { createWaterLine, type WaterLine } from "./water-line.ts";
