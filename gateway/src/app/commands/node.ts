import { join } from "node:path";
import { namePattern } from "@drumlin/firmware-protocol";
import { openNodeCredentials } from "../../accounts/index.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";

const help = `drumlin node add NAME --data DIR      makes a secret for a node, or a new one; shown once
drumlin node revoke NAME --data DIR   takes it away (the node is refused at its next sign-in)
drumlin node list --data DIR [--json] names of the nodes that may sign in`;

export const nodeCommand: Command = {
  name: "node",
  summary: "names and secrets of nodes",
  help,
  async run(args) {
    const options = readOptions(args, { data: "text", json: "flag" });
    const [what, name, ...more] = options.rest;
    const data = options.text("data");
    if (!data) throw new UsageError("--data is needed.");
    const credentials = openNodeCredentials(join(data, "nodes.json"));
    if (what === "list") {
      const names = credentials.names();
      console.log(options.flag("json") ? JSON.stringify(names) : names.join("\n"));
      return 0;
    }
    if ((what !== "add" && what !== "revoke") || name === undefined || more.length > 0)
      throw new UsageError("say add, revoke or list, and a name.");
    if (!namePattern.test(name) || name === "gateway")
      throw new UsageError(`"${name}" is no node's name: small letters, digits and hyphens, not "gateway".`);
    if (what === "revoke") {
      const was = credentials.revoke(name);
      console.log(was ? `${name} may no longer sign in.` : `There is no node ${name}.`);
      return was ? 0 : 1;
    }
    console.log(await credentials.put(name));
    return 0;
  },
};
