import type { YAMLParseError } from "yaml";

/** A fault of YAML in a keeper's words. */
export interface YamlWords {
  readonly message: string;
  readonly instead: string;
}

/** The line of a text in which an offset lies, without what is around it. */
function lineAt(text: string, offset: number): string {
  const from = text.lastIndexOf("\n", Math.max(0, offset - 1)) + 1;
  const to = text.indexOf("\n", from);
  return text.slice(from, to === -1 ? undefined : to).trim();
}

/** A key without the space after its colon, or without a colon: "site:a", "site a". */
function keyWithoutColon(line: string): YamlWords {
  const [, squeezed, rest] = /^([\w-]+):(\S.*)$/.exec(line) ?? [];
  if (squeezed !== undefined)
    return {
      message: `There is no space after the colon of "${line}".`,
      instead: `Write "${squeezed}: ${rest}".`,
    };
  const [key = line, ...words] = line.split(/\s+/);
  return {
    message: `"${line}" has no colon behind its key.`,
    instead: words.length > 0 ? `Write "${key}: ${words.join(" ")}".` : `Write "${key}:".`,
  };
}

function ofMissing(error: YAMLParseError): YamlWords {
  const [, closing] = /end with a (.)$/.exec(error.message) ?? [];
  if (closing !== undefined)
    return {
      message: `A bracket is opened and never closed: "${closing}" is missing.`,
      instead: `Write the "${closing}".`,
    };
  return { message: "A quotation mark is opened and never closed.", instead: "Close it on the same line." };
}

const usual: YamlWords = {
  message: "This can't be read.",
  instead: "Check the spaces in front, quotes and colons here.",
};

/** What the reader of YAML found, as one would say it to the person who wrote the file. The key itself is named where it is known. */
export function wordsOfYaml(error: YAMLParseError, text: string): YamlWords {
  const line = lineAt(text, error.pos[0]);
  switch (error.code) {
    case "TAB_AS_INDENT":
      return { message: "There is a tab in front of this line.", instead: "Use spaces, two a step." };
    case "DUPLICATE_KEY": {
      const key = /^[^:]+/.exec(text.slice(error.pos[0]))?.[0].trim() ?? "";
      return {
        message: `"${key}" stands here twice.`,
        instead: "Put what belongs to it together, or give the second one a name of its own.",
      };
    }
    case "MULTILINE_IMPLICIT_KEY":
      return keyWithoutColon(line);
    case "BLOCK_AS_IMPLICIT_KEY":
      return /:\s.*:\s/.test(line)
        ? {
            message: `There are two colons in "${line}".`,
            instead: "Put the value in quotation marks, or start a new line.",
          }
        : {
            message: "The next line stands further to the right than its neighbours.",
            instead: "Let what belongs together begin in the same column.",
          };
    case "BAD_INDENT":
      return error.message.includes("end with a")
        ? ofMissing(error)
        : {
            message: `"${line}" does not begin in the same column as its neighbours.`,
            instead: "Let what belongs together begin in the same column.",
          };
    case "MISSING_CHAR":
      return error.message.includes("Missing closing") ? ofMissing(error) : usual;
    case "BLOCK_IN_FLOW":
      return {
        message: "A comma is missing between two settings in { }.",
        instead: "Write { volume: 200 L, fed_by: supply }.",
      };
    case "BAD_SCALAR_START":
      return {
        message: `A value can't begin with ${text.charAt(error.pos[0])}.`,
        instead: "Put it in quotation marks.",
      };
    default:
      return usual;
  }
}
