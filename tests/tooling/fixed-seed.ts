// Every property begins at the same seed, so that a run can be repeated; `npm run soak` draws its own.
import fc from "fast-check";

fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env.DRUMLIN_SEED ?? 20_261_125) });
