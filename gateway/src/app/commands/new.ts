import { writeFile } from "node:fs/promises";
import { namePattern } from "@drumlin/firmware-protocol";
import { lineTemplate, type Picture, pictures } from "../line-templates.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";

const drawn = Object.entries(pictures)
  .map(([name, picture]) => `  ${name.padEnd(20)} ${picture}`)
  .join("\n");

const help = `drumlin new --picture NAME --site NAME --out FILE

Writes a line file to begin with, every part explained in it. Choose the picture that looks like your line:
${drawn}
Nothing is overwritten. Then: drumlin check FILE, and drumlin run --line FILE --data DIR.`;

function isPicture(name: string | undefined): name is Picture {
  return name !== undefined && Object.hasOwn(pictures, name);
}

/** `drumlin new`: a line file to begin with. */
export const newCommand: Command = {
  name: "new",
  summary: "writes a line file to begin with",
  help,
  async run(args) {
    const options = readOptions(args, { picture: "text", site: "text", out: "text" });
    const [picture, site, out] = [options.text("picture"), options.text("site"), options.text("out")];
    if (!isPicture(picture)) throw new UsageError(`--picture: one of ${Object.keys(pictures).join(", ")}.`);
    if (!site || !namePattern.test(site))
      throw new UsageError("--site: a name of small letters, digits and hyphens.");
    if (!out) throw new UsageError("--out: where to write it.");
    try {
      await writeFile(out, lineTemplate(picture, site), { flag: "wx" });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
      console.error(`${out} is there already: nothing was written.`);
      return 1;
    }
    console.log(`${out}: written. drumlin check ${out} says what it still needs.`);
    return 0;
  },
};
