import { type BackupProgress, backUp } from "../backup/back-up.ts";
import { restore } from "../backup/restore.ts";
import { wallMs } from "../host-time.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";

const help = `drumlin backup --data DIR --to FOLDER [--with-secrets] [--json]

Copies everything that a gateway keeps into a new folder: it may run meanwhile and loses nothing of its speed but the disk's.
manifest.json comes last, with the size and the sum of each file; a folder without it is no whole backup. The line file is
in it, as it is in force, and messages that wait. Keep it as closed as the data folder: it holds the accounts.
  --with-secrets     the folder secrets too. Left out otherwise, since copies travel further than the folder: the mail's
                     password and other secrets have to be written again, and phones that take messages added again.
Keys of TLS are never in it.`;

const restoreHelp = `drumlin restore --from FOLDER --data DIR [--json]

Puts a backup into a new data folder, once every file's sum is found right. One that was cut off is begun again by the same
command; until then no gateway starts on the folder. The next "drumlin run" on it goes on where the backup ended. Stop the gateway that used the folder before: two that live the same life confuse its nodes.`;

const megabytes = (bytes: number) => (bytes / 1e6).toFixed(1);

/** Says each file as it comes, where a person looks on. */
const progress = (isQuiet: boolean) => (at: BackupProgress) => {
  if (isQuiet) return;
  const percent = at.ofBytes === 0 ? 100 : Math.min(100, Math.floor((100 * at.doneBytes) / at.ofBytes));
  console.error(`${String(percent).padStart(3)} %  ${at.file}`);
};

function summary(what: string, files: readonly { readonly bytes: number }[], toSeq: number): string {
  const bytes = files.reduce((sum, file) => sum + file.bytes, 0);
  return `${what}: ${files.length} files, ${megabytes(bytes)} MB, up to entry ${toSeq} of the journal`;
}

/** `drumlin backup`: a whole copy of a data folder, while its gateway runs or not. */
export const backupCommand: Command = {
  name: "backup",
  summary: "copies everything that is kept, while the gateway runs",
  help,
  async run(args) {
    const options = readOptions(args, { data: "text", to: "text", "with-secrets": "flag", json: "flag" });
    const [data, to] = [options.text("data"), options.text("to")];
    if (!data || !to) throw new UsageError("--data and --to are needed.");
    const json = options.flag("json");
    const withSecrets = options.flag("with-secrets");
    const manifest = await backUp({ data, to, withSecrets, nowMs: wallMs(), onProgress: progress(json) });
    console.log(json ? JSON.stringify(manifest) : summary(to, manifest.files, manifest.journalSeq));
    return 0;
  },
};

/** `drumlin restore`: a data folder made of a backup, its sums checked first. */
export const restoreCommand: Command = {
  name: "restore",
  summary: "puts a backup into a new data folder",
  help: restoreHelp,
  async run(args) {
    const options = readOptions(args, { data: "text", from: "text", json: "flag" });
    const [data, from] = [options.text("data"), options.text("from")];
    if (!data || !from) throw new UsageError("--from and --data are needed.");
    const json = options.flag("json");
    const manifest = await restore({ from, data, onProgress: progress(json) });
    console.log(json ? JSON.stringify(manifest) : summary(data, manifest.files, manifest.journalSeq));
    return 0;
  },
};
