// A program of its own that stores rows and sends them to InfluxDB, to be killed in the middle of a write: FOLDER TARGET ROWS.
import {
  type InfluxTarget,
  openInfluxSender,
  openSqliteSeries,
  type SeriesRow,
} from "@drumlin/gateway/series";

const [folder = "", target = "", rows = ""] = process.argv.slice(2);
const store = await openSqliteSeries({ folder });
await openInfluxSender({
  target: JSON.parse(target) as InfluxTarget,
  log: store.log,
  range: (...asked) => store.range(...asked),
  folder,
  steadyMs: () => performance.now(),
  pace: { lookEveryMs: 20, waitMs: () => 20 },
  onChange: () => {},
});
for (const row of JSON.parse(rows) as readonly SeriesRow[]) store.add(row);
await store.sync();
