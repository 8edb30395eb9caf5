export { type DrumFault, drumFaults } from "./drum-faults.ts";
export { createDrumModel, type DrumModel } from "./drum-model.ts";
export { createDrumNodes, type DrumKit } from "./drum-nodes.ts";
export { createRandom } from "./random.ts";
export { saltmarshHouseYaml } from "./saltmarsh-house.ts";
export { createSimulatedNodes, type NodeMessage } from "./simulated-nodes.ts";
export { createWaterLine, type WaterLine } from "./water-line.ts";
