import { lastAnswer, type startProcess } from "../acceptance/gateway-process.ts";
import { startInfluxd } from "../contract/series-store/influxd.ts";

type Gateway = Awaited<ReturnType<typeof startProcess>>;

/** A real InfluxDB beside a gateway whose readings are numbers of packs, or none where it is not asked for. */
export async function sentOn(isAsked: boolean) {
  const influx = isAsked ? await startInfluxd() : null;
  const password = influx?.target.signIn.kind === "password" ? influx.target.signIn.password : "";
  return {
    /** What the gateway is started with. */
    more: influx ? ["--influx", `${influx.target.url}/drumlin`] : [],
    env: influx ? { DRUMLIN_INFLUX_USER: "keeper", DRUMLIN_INFLUX_PASSWORD: password } : {},
    /** Says whether it has all of these numbers, and whether the gateway had nothing to say of it. */
    async judge(
      gateway: Gateway,
      numbers: ReadonlySet<number>,
      say: (isRight: boolean, what: string) => void,
    ): Promise<void> {
      if (!influx) return;
      const ask = async () => {
        const rows = await influx.ask("SELECT v FROM reading");
        const there = new Set(rows.map(([, value]) => Math.round(Number(value) * 1e7) - 1));
        return [...numbers].filter((number) => !there.has(number));
      };
      // A batch is written each ten seconds.
      const missing = await lastAnswer(ask, ({ length }) => length === 0, 30_000);
      const said = gateway
        .printed()
        .split("\n")
        .filter((line) => line.includes("InfluxDB at "));
      say(missing.length === 0, `InfluxDB lacks ${missing.length} of ${numbers.size} that were acknowledged`);
      say(said.length === 0, `nothing was told of InfluxDB (${said.length} lines)`);
    },
    remove: async () => influx?.remove(),
  };
}
