import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";
import type { Plugin } from "vite";

/** Smaller files gain nothing: their headers weigh as much. */
const minBytes = 1024;
const isText = /\.(js|css|html|svg|webmanifest|json)$/;

function compress(path: string): void {
  const bytes = readFileSync(path);
  if (bytes.length < minBytes) return;
  writeFileSync(`${path}.gz`, gzipSync(bytes, { level: 9 }));
  const params = { [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY };
  writeFileSync(`${path}.br`, brotliCompressSync(bytes, { params }));
}

/** Lays a brotli and a gzip form beside each built text, so that the gateway never compresses a page while it serves. */
export function compressed(): Plugin {
  let folder = "";
  return {
    name: "compressed",
    apply: "build",
    configResolved(config) {
      folder = config.build.outDir.startsWith("/")
        ? config.build.outDir
        : join(config.root, config.build.outDir);
    },
    closeBundle() {
      for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" })) {
        const path = join(folder, name);
        if (isText.test(name) && statSync(path).isFile()) compress(path);
      }
    },
  };
}
