// The programs outside npm that the tests use: found where they are, else taken from Debian's packages.
import { spawnSync } from "node:child_process";
import { existsSync, rmSync, writeFileSync } from "node:fs";
import { delimiter, join } from "node:path";

const known = {
  mosquitto: { package: "mosquitto", env: "DRUMLIN_MOSQUITTO" },
  mosquitto_passwd: { package: "mosquitto", env: "DRUMLIN_MOSQUITTO_PASSWD" },
  mosquitto_pub: { package: "mosquitto-clients", env: "DRUMLIN_MOSQUITTO_PUB" },
  influxd: { package: "influxdb", env: "DRUMLIN_INFLUXD" },
  openssl: { package: "openssl", env: "DRUMLIN_OPENSSL" },
  strace: { package: "strace", env: "DRUMLIN_STRACE" },
  chromium: { package: "chromium", env: "DRUMLIN_CHROMIUM" },
};

function find(program) {
  const folders = [...(process.env.PATH ?? "").split(delimiter), "/usr/sbin", "/usr/local/sbin"];
  return folders.map((folder) => join(folder, program)).find((path) => existsSync(path)) ?? null;
}

/** Installs Debian packages without starting any service: a policy file denies starts meanwhile. */
function installQuietly(packages) {
  const policy = "/usr/sbin/policy-rc.d";
  const ours = !existsSync(policy);
  if (ours) writeFileSync(policy, "#!/bin/sh\nexit 101\n", { mode: 0o755 });
  try {
    const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    const apt = (...args) =>
      spawnSync("apt-get", args, { stdio: ["ignore", "ignore", "inherit"], env }).status === 0;
    return apt("update", "-q") && apt("install", "-y", "-q", "--no-install-recommends", ...packages);
  } finally {
    if (ours) rmSync(policy, { force: true });
  }
}

/**
 * Paths of the programs as environment variables; `missing` is the one line to run where they are not
 * there and may not be installed from here.
 */
export function ensurePrograms(names) {
  const absent = names.filter((name) => !find(name));
  if (absent.length > 0) {
    const packages = [...new Set(absent.map((name) => known[name].package))];
    const line = `apt-get update && apt-get install -y --no-install-recommends ${packages.join(" ")}`;
    if (!find("apt-get") || process.getuid?.() !== 0) {
      return { env: {}, missing: `The tests need ${absent.join(", ")}. On Debian, as root: ${line}` };
    }
    console.log(`Installing from Debian's packages: ${packages.join(", ")} …`);
    if (!installQuietly(packages))
      return { env: {}, missing: `Could not install. On Debian, as root: ${line}` };
  }
  const env = {};
  for (const name of names) env[known[name].env] = find(name);
  return { env, missing: null };
}
