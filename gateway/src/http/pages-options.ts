import { sep } from "node:path";
import type { FastifyStaticOptions } from "@fastify/static";

const yearS = 365 * 86_400;

/**
 * How the built pages are served: in the form that the browser takes (brotli, gzip) where one lies beside the file, and
 * files whose name holds the hash of their content kept for a year; everything else is asked for anew each time.
 */
export function pagesOptions(folder: string): FastifyStaticOptions {
  return {
    root: folder,
    preCompressed: true,
    cacheControl: false,
    setHeaders: (response, path) => {
      const isHashed = path.includes(`${sep}assets${sep}`);
      response.header("cache-control", isHashed ? `public, max-age=${yearS}, immutable` : "no-cache");
    },
  };
}
