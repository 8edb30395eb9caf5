// node derive-until-killed.ts FOLDER FROM TO POINT: does what a start of the gateway does with derivations that wait in a
// folder, and kills itself (-9) at a point.
import { openLogbook } from "@drumlin/gateway/logbook";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { deriveWaiting } from "./derive-waiting.ts";

const [folder = "", fromMs = "", toMs = "", point = ""] = process.argv.slice(2);
await deriveWaiting(
  { series: await openSqliteSeries({ folder }), logbook: openLogbook({ folder }) },
  { fromMs: Number(fromMs), toMs: Number(toMs) },
  (here) => {
    if (here === point) process.kill(process.pid, "SIGKILL");
  },
);
