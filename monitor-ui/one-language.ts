import type { Plugin } from "vite";

const listOfWords = /\/words\/(\w+)\/conditions\.ts$/;

/**
 * What a condition says stands in one file for all languages. Each language's list gets a copy of it, of which the build keeps
 * what that list takes: the first page carries no language that is not wanted.
 */
export function oneLanguage(): Plugin {
  return {
    name: "one-language",
    enforce: "pre",
    async resolveId(source, importer) {
      const language = listOfWords.exec(importer ?? "")?.[1];
      if (!language || !source.startsWith("../conditions/")) return null;
      const found = await this.resolve(source, importer, { skipSelf: true });
      return found && `${found.id}?${language}`;
    },
  };
}
