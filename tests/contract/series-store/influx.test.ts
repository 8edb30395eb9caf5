import { InfluxSeries } from "@drumlin/gateway/series";
import { startInfluxd } from "./influxd.ts";
import { seriesStoreContract } from "./suite.ts";

seriesStoreContract(
  "InfluxDB 1.x",
  async () => {
    const influx = await startInfluxd();
    return { open: async () => new InfluxSeries(influx.target), remove: () => influx.remove() };
  },
  { countsReplaced: false, putsBeside: false, runs: 20 },
);
