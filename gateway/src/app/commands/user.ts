import { askNewPassword } from "../ask-secret.ts";
import { readOptions, UsageError } from "../options.ts";
import { byCommandLine, roleOf, withAccounts } from "../with-accounts.ts";
import type { Command } from "./command.ts";

const help = `drumlin user add NAME --data DIR [--role viewer|operator]   adds a person; the password is asked
drumlin user role NAME --role viewer|operator --data DIR    gives another role
drumlin user password NAME --data DIR                       gives a new password; ends their sessions
drumlin user disable|enable NAME --data DIR                 lets them sign in no more, or again
drumlin user remove NAME --data DIR                         removes a person; ends their sessions
drumlin user list --data DIR                                names and roles
The first person is an operator, others are viewers unless told. --password-stdin reads the password from
standard input. With --json the answer is JSON.`;

/** `drumlin user`: people and their passwords. */
export const userCommand: Command = {
  name: "user",
  summary: "people who may sign in, and their roles",
  help,
  async run(args) {
    const options = readOptions(args, {
      data: "text",
      role: "text",
      json: "flag",
      "password-stdin": "flag",
    });
    const [what, name, ...more] = options.rest;
    const json = options.flag("json");
    const role = roleOf(options.text("role"));
    if (what !== "list" && (name === undefined || more.length > 0))
      throw new UsageError("say add, role, password, disable, enable, remove or list, and a name.");
    const tell = (facts: Readonly<Record<string, unknown>>, words: string) =>
      console.log(json ? JSON.stringify({ name, ...facts }) : words);
    return withAccounts(options.text("data"), async ({ people }) => {
      const who = name as string;
      switch (what) {
        case "list": {
          const items = people
            .list()
            .map(({ name, role, isDisabled }) => ({ name, role, disabled: isDisabled }));
          console.log(
            json
              ? JSON.stringify(items)
              : items
                  .map((item) => `${item.name}  ${item.role}${item.disabled ? ", disabled" : ""}`)
                  .join("\n"),
          );
          return;
        }
        case "add": {
          const given = role ?? (people.list().length > 0 ? "viewer" : "operator");
          const password = await askNewPassword(options.flag("password-stdin"));
          await people.add({ name: who, role: given, password, by: byCommandLine });
          return tell({ role: given }, `${who} may sign in as ${given}.`);
        }
        case "role":
          if (role === null) throw new UsageError("--role is needed.");
          people.setRole(who, role, byCommandLine);
          return tell({ role }, `${who} is ${role} now.`);
        case "password":
          await people.setPassword(who, await askNewPassword(options.flag("password-stdin")), byCommandLine);
          return tell({ changed: true }, `${who} signs in with the new password.`);
        case "disable":
        case "enable":
          people.setDisabled(who, what === "disable", byCommandLine);
          return tell(
            { disabled: what === "disable" },
            what === "disable" ? `${who} may not sign in for now.` : `${who} may sign in again.`,
          );
        case "remove":
          people.remove(who, byCommandLine);
          return tell({ removed: true }, `${who} may no longer sign in.`);
        default:
          throw new UsageError("say add, role, password, disable, enable, remove or list.");
      }
    });
  },
};
