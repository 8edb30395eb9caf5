import { readOptions, UsageError } from "../options.ts";
import { byCommandLine, roleOf, withAccounts } from "../with-accounts.ts";
import type { Command } from "./command.ts";

const help = `drumlin token add NAME --data DIR [--role viewer|operator]   makes a program's token; shown once
drumlin token revoke NAME --data DIR                         takes it away
drumlin token list --data DIR                                names and roles
The role is viewer unless told. With --json the answer is JSON. A program sends it as
"Authorization: Bearer TOKEN".`;

/** `drumlin token`: programs and their tokens. */
export const tokenCommand: Command = {
  name: "token",
  summary: "tokens of programs that use the API",
  help,
  async run(args) {
    const options = readOptions(args, { data: "text", role: "text", json: "flag" });
    const [what, name, ...more] = options.rest;
    const json = options.flag("json");
    const role = roleOf(options.text("role")) ?? "viewer";
    if (what !== "list" && (name === undefined || more.length > 0))
      throw new UsageError("say add, revoke or list, and a name.");
    return withAccounts(options.text("data"), ({ tokens }) => {
      switch (what) {
        case "list": {
          const items = tokens.list().map((token) => ({ name: token.name, role: token.role }));
          console.log(
            json ? JSON.stringify(items) : items.map((item) => `${item.name}  ${item.role}`).join("\n"),
          );
          return;
        }
        case "add": {
          const token = tokens.add(name as string, role, byCommandLine);
          console.log(json ? JSON.stringify({ name, role, token }) : token);
          return;
        }
        case "revoke":
          tokens.revoke(name as string, byCommandLine);
          console.log(json ? JSON.stringify({ name, revoked: true }) : `${name} is no longer let in.`);
          return;
        default:
          throw new UsageError("say add, revoke or list.");
      }
    });
  },
};
