import { X509Certificate } from "node:crypto";
import { existsSync, statSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { namePattern } from "@drumlin/firmware-protocol";
import { readLineFile } from "../../alarms/index.ts";
import { isLoopback, type TlsFiles } from "../../http/index.ts";
import type { Gateway } from "../gateway-options.ts";
import { wallMs } from "../host-time.ts";
import { influxHelp, influxOptions, readInflux } from "../influx-options.ts";
import { emptyLine } from "../line-templates.ts";
import { listenAddress, readKeeping, readOptions, UsageError } from "../options.ts";
import { makePrivate } from "../private-folder.ts";
import { secretOf } from "../secret-file.ts";
import { startGateway } from "../start-gateway.ts";
import { readTls, type TlsPaths, tlsPaths, tlsWarnings, watchTls } from "../tls-files.ts";
import { untilStopped } from "../until-stopped.ts";
import type { Command } from "./command.ts";
import { faultText } from "./fault-text.ts";

const lookAtCertificatesMs = 60_000;

const help = `drumlin run --line FILE --data DIR [--site NAME] [--http HOST:PORT] [--mqtt HOST:PORT]
             [--tls-cert FILE --tls-key FILE | --plain-http]

Runs the gateway: takes packs from nodes over MQTT, judges them, keeps them, shows the page.
  --line FILE        the line file; "drumlin check FILE" reads it first
  --site NAME        where FILE is not there yet: one is begun for a site of this name (small letters, digits, hyphens),
                     and the line is drawn on the page
  --data DIR         where everything is kept; made when missing (one folder, one gateway)
  --keep-days N, --keep-mb N   readings from before the last N days on which there were any, or beyond this size of their
                     file, go, the oldest days first; 5 years. What minutes and hours came to stays, so charts stay whole
  --http HOST:PORT   the page and the API; 127.0.0.1:8080; loopback only until the first account exists
  --mqtt HOST:PORT   the embedded MQTT broker; 127.0.0.1:1883
  --tls-cert FILE, --tls-key FILE            certificate with its chain, and key (PEM), of page, API and MQTT;
                                             looked at each minute, a renewed one is used for new connections
  --mqtt-tls-cert FILE, --mqtt-tls-key FILE  others for MQTT
  --mqtt-plain       MQTT without TLS although --tls-cert is given
  --broker URL       a broker of your own instead of the embedded one: mqtt://HOST:PORT or mqtts://HOST:PORT; name and
                     password from DRUMLIN_BROKER_USER and DRUMLIN_BROKER_PASSWORD, or --broker-password-file FILE
  --broker-ca FILE   certificate authority of that broker (PEM)
${influxHelp}
  --take-over        start although another gateway is online at this site on that broker
  --house-ca FILE    certificate authority of your own house (PEM), for mail, webhooks and push besides the usual ones
  --push-inside      devices may be reached by a push service of your own network
  --plain-http       page and API without TLS on a private address, on purpose: what is typed can be read on the way
Each option is also read from the environment: DRUMLIN_LINE, DRUMLIN_DATA, DRUMLIN_HTTP, DRUMLIN_TLS_CERT …
While there is no account, a code is printed with which the page makes the first one (or: drumlin user add NAME).
The line file is read again on SIGHUP: a faulty one leaves the old in force.
Nodes sign in with a name and a secret: drumlin node add NAME --data DIR.`;

const dayMs = 86_400_000;

/** What is kept is its owner's alone, also where an earlier version left it open. */
function closeFolder(data: string, log: (message: string) => void): void {
  try {
    const closed = statSync(data, { throwIfNoEntry: false })?.isDirectory() ? makePrivate(data) : 0;
    if (closed > 0) log(`data: ${closed} files in ${data} could be read by other users; now they can't`);
  } catch (error) {
    log(`data: other users may read what is in ${data}: ${String(error)}`);
  }
}

/** Says what is wrong with a certificate and its key. */
async function warnOfFiles(paths: TlsPaths, log: (message: string) => void): Promise<void> {
  for (const warning of await tlsWarnings(paths, wallMs()).catch(() => [])) log(`tls: ${warning}`);
}

/** Says now and each day what is wrong with certificates and keys. Gives the way to stop. */
function warnOfTls(all: readonly (TlsPaths | null)[], log: (message: string) => void): () => void {
  const distinct = new Map(all.flatMap((paths) => (paths ? [[paths.cert + paths.key, paths] as const] : [])));
  const warn = async () => {
    for (const paths of distinct.values()) await warnOfFiles(paths, log);
  };
  void warn();
  const timer = setInterval(() => void warn(), dayMs);
  timer.unref();
  return () => clearInterval(timer);
}

/** Follows a pair of files that is in use, where there is one. Gives the way to stop. */
function follow(
  paths: TlsPaths | null,
  used: TlsFiles | null,
  renew: (files: TlsFiles) => void,
  log: (message: string) => void,
): () => void {
  if (!paths || !used) return () => {};
  return watchTls(paths, {
    everyMs: lookAtCertificatesMs,
    used,
    log,
    renewed(files) {
      renew(files);
      void warnOfFiles(paths, log);
    },
  });
}

interface AskedBroker {
  readonly url: string;
  readonly ca: string | undefined;
  readonly takeOver: boolean;
}

/** The command's options, checked against each other. Throws UsageError. */
function readRunOptions(args: readonly string[]) {
  const options = readOptions(args, {
    line: "text",
    site: "text",
    data: "text",
    http: "text",
    mqtt: "text",
    "tls-cert": "text",
    "tls-key": "text",
    "mqtt-tls-cert": "text",
    "mqtt-tls-key": "text",
    "mqtt-plain": "flag",
    "plain-http": "flag",
    broker: "text",
    "broker-ca": "text",
    "broker-password-file": "text",
    "take-over": "flag",
    "house-ca": "text",
    "push-inside": "flag",
    ...influxOptions,
    "keep-days": "text",
    "keep-mb": "text",
  });
  const file = options.text("line");
  const data = options.text("data");
  if (!file || !data) throw new UsageError("--line and --data are needed.");
  const http = listenAddress(options.text("http") ?? "127.0.0.1:8080", "http");
  const plainHttp = options.flag("plain-http");
  const paths = tlsPaths(options.text("tls-cert"), options.text("tls-key"), "tls");
  const ownPaths = tlsPaths(options.text("mqtt-tls-cert"), options.text("mqtt-tls-key"), "mqtt-tls");
  if (paths && plainHttp) throw new UsageError("--plain-http and --tls-cert exclude each other.");
  if (!isLoopback(http.host) && !paths && !plainHttp)
    throw new UsageError(
      `--http ${http.host}: give --tls-cert and --tls-key, or say --plain-http for a private network, on purpose.`,
    );
  const url = options.text("broker");
  if (url !== undefined && !/^mqtts?:\/\/[^/]+/.test(url))
    throw new UsageError(`--broker ${url}: write mqtt://HOST:PORT or mqtts://HOST:PORT.`);
  if (url !== undefined && options.text("mqtt") !== undefined)
    throw new UsageError("--broker and --mqtt exclude each other.");
  const broker: AskedBroker | null =
    url === undefined ? null : { url, ca: options.text("broker-ca"), takeOver: options.flag("take-over") };
  const site = options.text("site");
  if (site !== undefined && !namePattern.test(site))
    throw new UsageError("--site: a name of small letters, digits and hyphens.");
  return {
    file,
    site,
    data,
    http,
    mqtt: listenAddress(options.text("mqtt") ?? "127.0.0.1:1883", "mqtt"),
    plainHttp,
    paths,
    mqttPaths: ownPaths ?? (options.flag("mqtt-plain") ? null : paths),
    broker,
    houseCa: options.text("house-ca"),
    pushInside: options.flag("push-inside"),
    retention: readKeeping(options.text),
    options,
  };
}

/** The line file's text; one is begun where there is none and a site is named. Throws UsageError where it is missing. */
async function lineTextOf(file: string, site: string | undefined): Promise<string> {
  if (!existsSync(file)) {
    if (site === undefined)
      throw new UsageError(
        `${file} is not there. Add --site NAME to begin one and draw the line on the page, or: drumlin new --help`,
      );
    await writeFile(file, emptyLine(site), { flag: "wx" });
    console.log(`${file}: begun. Draw the line on the page.`);
  }
  return readFile(file, "utf8");
}

async function outsideBrokerOf({ url, ca, takeOver }: AskedBroker, options: ReturnType<typeof readOptions>) {
  return {
    url,
    username: process.env.DRUMLIN_BROKER_USER,
    password: (await secretOf(options, "broker-password", process.env)) ?? undefined,
    ca: ca === undefined ? undefined : await readFile(ca, "utf8"),
    takeOver,
  };
}

/** A certificate authority's file. Throws UsageError where it is none. */
async function readAuthority(file: string): Promise<string> {
  const pem = await readFile(file, "utf8");
  try {
    new X509Certificate(pem);
  } catch {
    throw new UsageError(`--house-ca ${file}: that is no certificate (PEM).`);
  }
  return pem;
}

/** Prints where the page and MQTT are, and the code for the first account. */
function sayWhere(
  gateway: Gateway,
  { http, paths, broker }: ReturnType<typeof readRunOptions>,
  site: string,
): void {
  if (gateway.setUpCode !== null) {
    console.log(`No account yet. Set-up code, for the first one: ${gateway.setUpCode}`);
    if (!isLoopback(http.host)) console.log(`Until then only this machine is listened to, not ${http.host}.`);
  }
  const host = gateway.setUpCode !== null || isLoopback(http.host) ? "127.0.0.1" : http.host;
  const page = `${paths ? "https" : "http"}://${host.includes(":") ? `[${host}]` : host}:${gateway.httpPort}/`;
  const mqtt = broker ? `at ${new URL(broker.url).host}` : `port ${gateway.mqttPort}`;
  console.log(`page and API: ${page}   MQTT: ${mqtt}   site: ${site}`);
}

/** `drumlin run`: the gateway. */
export const runCommand: Command = {
  name: "run",
  summary: "runs the gateway on your own line",
  help,
  async run(args) {
    const asked = readRunOptions(args);
    const { file, http, paths, mqttPaths, broker } = asked;
    const influx = await readInflux(asked.options);
    const lineYaml = await lineTextOf(file, asked.site);
    const read = readLineFile(lineYaml);
    for (const fault of read.faults) console.error(faultText(file, fault));
    if (!read.ok) return 1;
    // Listened for before anything is said to be ready: a signal that comes at once is still an orderly stop.
    const over = Promise.withResolvers<string | null>();
    void untilStopped().then(() => over.resolve(null));
    const log = (message: string) => console.error(message);
    closeFolder(asked.data, log);
    const warned = warnOfTls([paths, mqttPaths], log);
    const tls = paths && (await readTls(paths));
    const mqttTls = mqttPaths && (await readTls(mqttPaths));
    const gateway = await startGateway({
      data: asked.data,
      lineYaml,
      lineFile: file,
      http,
      tls,
      mqttTls,
      plainHttp: asked.plainHttp,
      mqtt: asked.mqtt,
      onTakenOver: () => over.resolve(null),
      onFatal: over.resolve,
      influx,
      retention: asked.retention,
      outsideBroker: broker && (await outsideBrokerOf(broker, asked.options)),
      log,
      environment: process.env,
      pushInside: asked.pushInside,
      ...(asked.houseCa === undefined ? {} : { houseCa: await readAuthority(asked.houseCa) }),
    });
    sayWhere(gateway, asked, read.line.site);
    process.on(
      "SIGHUP",
      () => void gateway.reloadLine().catch((error: unknown) => log(`line: ${String(error)}`)),
    );
    const watches = [
      follow(paths, tls, gateway.renewTls, log),
      follow(mqttPaths, mqttTls, gateway.renewMqttTls, log),
    ];
    const fatal = await over.promise;
    if (fatal !== null) log(`drumlin run: ${fatal}`);
    for (const end of watches) end();
    warned();
    await gateway.stop();
    return fatal === null ? 0 : 1;
  },
};
