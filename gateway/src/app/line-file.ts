import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { readLineFile } from "../alarms/index.ts";
import type { AssignedChannel, LineFileAccess, LineFileSaved } from "../http/index.ts";
import type { LineFault } from "../line/index.ts";
import { assigned, changesOf, differencesOf, edited, type LineChange, type LineEdit } from "./line-edits.ts";
import { replaceLineFile } from "./line-file-disk.ts";
import { drawnPictures } from "./line-templates.ts";

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

/** A text that took another's place: the versions of both, then what differs, value by value. */
const wholeText = (before: string, after: string): LineChange[] =>
  before === after
    ? []
    : [
        { at: "", before: { version: versionOf(before) }, after: { version: versionOf(after) } },
        ...differencesOf(before, after),
      ];

/** The line file as pages and signals change it: checked first, all or nothing, the old one beside it, then in force. */
export class LineFileDesk implements LineFileAccess {
  private readonly needs: LineFileNeeds;
  private last: Promise<unknown> = Promise.resolve();
  /** The text that was read last: pages ask again and again, and reading takes time. */
  private looked: { readonly yaml: string; readonly faults: readonly LineFault[] } | null = null;

  constructor(needs: LineFileNeeds) {
    this.needs = needs;
  }

  /** The text as it stands, its version, and what is wrong with it. */
  async read() {
    const yaml = await this.text();
    return { yaml, version: versionOf(yaml), faults: this.faultsOf(yaml) };
  }

  save(yaml: string, version: string): Promise<LineFileSaved> {
    return this.inTurn(() => this.replace(yaml, version));
  }

  /** Sets one limit, every comment kept. */
  setLimit(condition: string, subject: string, limit: number, version: string): Promise<LineFileSaved> {
    return this.edit([{ at: ["limits", `${condition}:${subject}`, "limit"], to: limit }], version);
  }

  /** Sets when people are told again, every comment and destination kept. */
  setNotify({ wake, tell, today }: Parameters<LineFileAccess["setNotify"]>[0]): Promise<LineFileSaved> {
    return this.inTurn(async () => {
      const yaml = await this.text();
      return this.change(
        [
          { at: ["notify", "wake", "again"], to: wake.again },
          { at: ["notify", "wake", "second_after"], to: wake.second_after },
          { at: ["notify", "tell", "again"], to: tell.again },
          { at: ["notify", "today"], to: today },
        ],
        versionOf(yaml),
      );
    });
  }

  async assign(asked: AssignedChannel): Promise<LineFileSaved> {
    const result = await this.inTurn(async () => {
      const yaml = await this.text();
      return this.change(assigned(yaml, asked), versionOf(yaml));
    });
    if (result.ok) this.needs.assigned(asked.channel);
    return result;
  }

  /** Changes the text at some places, all or nothing, every comment kept. */
  edit(edits: readonly LineEdit[], version: string): Promise<LineFileSaved> {
    return this.inTurn(() => this.change(edits, version));
  }

  /** Files to begin with, for this site and the title in force. */
  pictures() {
    const read = readLineFile(this.needs.inForce());
    return drawnPictures(this.needs.site, read.ok ? read.line.title : this.needs.site);
  }

  /** Takes what stands in the file now. A faulty one leaves the old in force. */
  reload(): Promise<LineFileSaved> {
    return this.inTurn(async () => {
      const yaml = await this.text();
      const refused = this.refusalOf(yaml);
      if (refused) return refused;
      const before = this.needs.inForce();
      if (yaml !== before) await this.needs.apply(yaml);
      return this.savedAs(yaml, wholeText(before, yaml));
    });
  }

  private faultsOf(yaml: string): readonly LineFault[] {
    if (this.looked?.yaml !== yaml) this.looked = { yaml, faults: readLineFile(yaml).faults };
    return this.looked.faults;
  }

  private savedAs(yaml: string, changes: readonly LineChange[]): LineFileSaved {
    return { ok: true, version: versionOf(yaml), faults: this.faultsOf(yaml), changes };
  }

  private async text(): Promise<string> {
    return this.needs.path === null ? this.needs.inForce() : readFile(this.needs.path, "utf8");
  }

  /** One change after the other: two at once would both find the version they know. */
  private inTurn(work: () => Promise<LineFileSaved>): Promise<LineFileSaved> {
    const result = this.last.then(work).catch(unusable);
    this.last = result.catch(() => {});
    return result;
  }

  private refusalOf(yaml: string): Extract<LineFileSaved, { ok: false }> | null {
    const read = readLineFile(yaml);
    if (!read.ok)
      return {
        ok: false,
        code: "line-file-faulty",
        message: read.faults.map(({ line, message }) => `line ${line}: ${message}`).join(" "),
        faults: read.faults,
      };
    const { site } = this.needs;
    if (read.line.site !== site)
      return {
        ok: false,
        code: "line-file-of-another-site",
        message: `It describes ${read.line.site}; this data folder belongs to ${site}.`,
        faults: [],
      };
    return null;
  }

  /** Nothing is changed in a text that can't be used as it is. */
  private async change(edits: readonly LineEdit[], version: string): Promise<LineFileSaved> {
    const yaml = await this.text();
    if (versionOf(yaml) !== version) return changedMeanwhile;
    const refused = this.refusalOf(yaml);
    if (refused) return refused;
    const changed = edited(yaml, edits);
    if (changed === null)
      return {
        ok: false,
        code: "line-file-faulty",
        message: "A value stands where keys are needed: change the file by hand.",
        faults: [],
      };
    return this.replace(changed, version, changesOf(yaml, changed, edits));
  }

  private async replace(
    yaml: string,
    version: string,
    changes?: readonly LineChange[],
  ): Promise<LineFileSaved> {
    const { path, now, apply } = this.needs;
    if (path === null)
      return { ok: false, code: "no-line-file", message: "This line did not come from a file.", faults: [] };
    const before = await this.text();
    if (versionOf(before) !== version) return changedMeanwhile;
    const refused = this.refusalOf(yaml);
    if (refused) return refused;
    await replaceLineFile(path, yaml, now());
    await apply(yaml);
    return this.savedAs(yaml, changes ?? wholeText(before, yaml));
  }
}
