// Every property begins at the same seed, so that a run can be repeated; `npm run soak -- properties` draws
// its own. A property that fails prints its seed: DRUMLIN_SEED=… runs it again.
import fc from "fast-check";

fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env.DRUMLIN_SEED ?? 20_261_125) });
