import { createHash } from "node:crypto";
import { copyFile, open, readdir, readFile, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { parseDocument } from "yaml";
import { readLineFile } from "../alarms/index.ts";
import type { LineFileAccess, LineFileSaved } from "../http/index.ts";

const mostKept = 20;

interface LineFileNeeds {
  /** The file's path; null where the line did not come from a file (the demo). */
  readonly path: string | null;
  /** The text in force, where there is no file. */
  readonly inForce: () => string;
  readonly site: string;
  /** Journals a text that was checked; resolves when it is in force. */
  readonly apply: (yaml: string) => Promise<void>;
  /** Told of a channel that has just got its place. */
  readonly assigned: (channel: string) => void;
  readonly now: () => number;
}

/** The file or its folder can't be read or written: said by name, with what the system says. */
function unusable(error: unknown): LineFileSaved {
  if (!(error instanceof Error && "syscall" in error)) throw error;
  return { ok: false, code: "line-file-not-usable", message: error.message, faults: [] };
}

const changedMeanwhile = {
  ok: false,
  code: "line-file-changed",
  message: "The file was changed meanwhile: load it again.",
  faults: [],
} as const;

/** Tells one text from another. */
function versionOf(yaml: string): string {
  return createHash("sha256").update(yaml).digest("hex").slice(0, 16);
}

/** The line file as pages and signals change it: checked first, all or nothing, the old one beside it, then in force. */
export function createLineFile({ path, inForce, site, apply, assigned, now }: LineFileNeeds): LineFileAccess {
  async function text(): Promise<string> {
    return path === null ? inForce() : readFile(path, "utf8");
  }

  async function keepOld(file: string): Promise<void> {
    const stamp = new Date(now()).toISOString().replaceAll(/[:.]/g, "-");
    await copyFile(file, `${file}.before-${stamp}`);
    const old = (await readdir(dirname(file)))
      .filter((name) => name.startsWith(`${basename(file)}.before-`))
      .sort();
    for (const name of old.slice(0, -mostKept)) await rm(join(dirname(file), name));
  }

  async function write(file: string, yaml: string): Promise<void> {
    await keepOld(file);
    // It is a person's own file: who may read it stays as it was.
    const { mode } = await stat(file);
    const handle = await open(`${file}.new`, "w");
    try {
      await handle.chmod(mode & 0o777);
      await handle.writeFile(yaml);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(`${file}.new`, file);
    const folder = await open(dirname(file), "r");
    await folder.sync();
    await folder.close();
  }

  function checked(yaml: string): Extract<LineFileSaved, { ok: false }> | null {
    const read = readLineFile(yaml);
    if (!read.ok)
      return {
        ok: false,
        code: "line-file-faulty",
        message: read.faults.map(({ line, message }) => `line ${line}: ${message}`).join(" "),
        faults: read.faults,
      };
    if (read.line.site !== site)
      return {
        ok: false,
        code: "line-file-of-another-site",
        message: `It describes ${read.line.site}; this data folder belongs to ${site}.`,
        faults: [],
      };
    return null;
  }

  let last: Promise<unknown> = Promise.resolve();
  /** One change after the other: two at once would both find the version they know. */
  function inTurn(work: () => Promise<LineFileSaved>): Promise<LineFileSaved> {
    const result = last.then(work).catch(unusable);
    last = result.catch(() => {});
    return result;
  }

  /** Changes the text at one place, every comment kept. Nothing is changed in a text that can't be used as it is. */
  async function changed(at: readonly string[], value: unknown, version: string): Promise<LineFileSaved> {
    const yaml = await text();
    if (versionOf(yaml) !== version) return changedMeanwhile;
    const refused = checked(yaml);
    if (refused) return refused;
    const document = parseDocument(yaml);
    document.setIn(at, value);
    return save(document.toString({ lineWidth: 0 }), version);
  }

  async function save(yaml: string, version: string): Promise<LineFileSaved> {
    if (path === null)
      return { ok: false, code: "no-line-file", message: "This line did not come from a file.", faults: [] };
    if (versionOf(await text()) !== version) return changedMeanwhile;
    const refused = checked(yaml);
    if (refused) return refused;
    await write(path, yaml);
    await apply(yaml);
    return { ok: true, version: versionOf(yaml), faults: readLineFile(yaml).faults };
  }

  return {
    /** The text as it stands, its version, and what is wrong with it. */
    async read() {
      const yaml = await text();
      return { yaml, version: versionOf(yaml), faults: readLineFile(yaml).faults };
    },
    save: (yaml, version) => inTurn(() => save(yaml, version)),
    /** Sets one limit, every comment kept. */
    setLimit: (condition, subject, limit, version) =>
      inTurn(() => changed(["limits", `${condition}:${subject}`, "limit"], limit, version)),
    setFloatSense: (drum, role, wet) =>
      inTurn(async () => {
        const yaml = await text();
        const written = parseDocument(yaml);
        const short = ["drums", drum, "stop"];
        const at = role === "stop" && written.hasIn(short) ? short : ["drums", drum, "floats", role];
        const now = written.getIn(at);
        // Written as a bare channel it becomes a map; in a map the other settings stay.
        return typeof now === "string"
          ? changed(at, { channel: now, wet }, versionOf(yaml))
          : changed([...at, "wet"], wet, versionOf(yaml));
      }),
    async assign(channel, to) {
      const result = await inTurn(async () => changed(to.split("/"), channel, versionOf(await text())));
      if (result.ok) assigned(channel);
      return result;
    },
    /** Takes what stands in the file now. A faulty one leaves the old in force. */
    reload: () =>
      inTurn(async () => {
        const yaml = await text();
        const refused = checked(yaml);
        if (refused) return refused;
        if (yaml !== inForce()) await apply(yaml);
        return { ok: true, version: versionOf(yaml), faults: readLineFile(yaml).faults };
      }),
  };
}
