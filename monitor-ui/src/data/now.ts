import { gatewayAheadMs } from "./state.ts";

/** Now by the gateway's clock, epoch ms. */
export const gatewayNow = () => Date.now() + gatewayAheadMs.value;
