import { keyOf } from "./name-key.ts";

/** Letters that a password must have beside a name or a common word in it. */
const leastBeside = 6;
/** Shorter names stand in many good passwords by chance. */
const shortestName = 3;
/** Names of this program: the first that a stranger would try. */
const ownNames = ["drumlin", "gateway"];
/** What people put behind a word to please a rule. */
const decoration = /[\d\W_]+$/;

let commonOnes: Promise<ReadonlySet<string>> | null = null;

/** The most common passwords, read when the first one is asked for: the list of a package that is kept up to date. */
function common(): Promise<ReadonlySet<string>> {
  commonOnes ??= import("@zxcvbn-ts/language-common").then(
    ({ dictionary }) => new Set(dictionary["passwords-common"].map((word) => word.toLowerCase())),
  );
  return commonOnes;
}

/** Why a password is guessed early (NIST SP 800-63B §5.1.1.2: common ones, and the name of its person); null when it is not. */
export async function weaknessOf(password: string, name: string): Promise<string | null> {
  const typed = keyOf(password);
  for (const own of [keyOf(name), ...ownNames]) {
    if (own.length < shortestName || !typed.includes(own)) continue;
    if ([...typed.replaceAll(own, "").replaceAll(/[\s\d]/g, "")].length < leastBeside)
      return own === keyOf(name) ? "It is little more than the name." : `It is little more than "${own}".`;
  }
  if (new Set(typed).size < 4) return "It has hardly any different letters.";
  const words = await common();
  const bare = typed.replace(decoration, "");
  const isCommon = words.has(typed) || (typed.length - bare.length < leastBeside && words.has(bare));
  return isCommon ? "It is among the most common ones." : null;
}
