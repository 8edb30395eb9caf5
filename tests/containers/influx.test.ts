import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import {
  type InfluxSender,
  InfluxSeries,
  type InfluxTarget,
  openInfluxSender,
  openSqliteSeries,
  type SeriesRow,
  type SqliteSeries,
} from "@drumlin/gateway/series";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { eventually } from "../acceptance/gateway-process.ts";
import { seriesStoreContract } from "../contract/series-store/suite.ts";
import { type InfluxServer, influx2, influx3 } from "./influx-servers.ts";

const series = "reading/press/ec-1[S/m]";
const beginMs = Math.floor(Date.now() / 1000) * 1000 - 3_600_000;
const rows = (count: number, name = series): SeriesRow[] =>
  Array.from({ length: count }, (_, index) => ({
    series: name,
    tMs: beginMs + 1000 * index,
    value: index / 8,
    flag: 1,
  }));

describe.each([influx2, influx3])("container $image", (image) => {
  seriesStoreContract(
    image.image,
    async () => {
      const server = await image.start();
      return { open: async () => new InfluxSeries(server.target), remove: () => server.remove() };
    },
    { countsReplaced: false, putsBeside: false, runs: 10 },
  );

  describe("the sender", () => {
    let server: InfluxServer;
    let folder: string;
    let store: SqliteSeries;
    let sender: InfluxSender;
    beforeAll(async () => {
      server = await image.start();
      folder = mkdtempSync(join(tmpdir(), "drumlin-containers-"));
      store = await openSqliteSeries({ folder });
    });
    afterEach(() => sender.stop());
    afterAll(async () => {
      await store.close();
      await server.remove();
      rmSync(folder, { recursive: true, force: true });
    });
    const send = async (target: InfluxTarget) => {
      sender = await openInfluxSender({
        target,
        log: store.log,
        range: (...asked) => store.range(...asked),
        folder,
        steadyMs: () => performance.now(),
        pace: { lookEveryMs: 50, waitMs: () => 200 },
        onChange: () => {},
      });
    };
    const put = async (some: readonly SeriesRow[]) => {
      for (const row of some) store.add(row);
      await store.sync();
    };
    const count = async (name: string) => {
      let found = 0;
      for await (const some of new InfluxSeries(server.target).range(name, 0, 1e15)) found += some.length;
      return found;
    };
    const failsWith = (code: string) =>
      eventually(
        async () => sender.state().failure?.code,
        (now) => now === code,
      );

    it("a token that is not known is named influx-unauthorised", async () => {
      await send({ ...server.target, signIn: { kind: "token", token: "not-ours" } });
      await put(rows(10));
      expect(await failsWith("influx-unauthorised")).toBe("influx-unauthorised");
    });

    it("a type that another client planted: those points are set aside, the others arrive", async () => {
      expect(await server.write(`flow,series=planted v="text" ${beginMs}`)).toBeLessThan(300);
      await send(server.target);
      await put([...rows(100), ...rows(5, "flow/after-resin/flow")]);
      expect(
        await eventually(
          () => count(series),
          (found) => found === 100,
        ),
      ).toBe(100);
      expect(sender.state().aside).toEqual([
        expect.objectContaining({ code: "influx-type-conflict", measurement: "flow", points: 5 }),
      ]);
    });

    it("restarted under load: complete afterwards", async () => {
      await send(server.target);
      await put(rows(20_000, "reading/drums/level-1[m]"));
      await server.restart();
      await sender.stop();
      await send(server.target);
      const found = await eventually(
        () => count("reading/drums/level-1[m]").catch(() => -1),
        (there) => there === 20_000,
      );
      expect(found).toBe(20_000);
    });
  });
});
