import { readOptions, UsageError } from "../options.ts";
import { byCommandLine, withAccounts } from "../with-accounts.ts";
import type { Command } from "./command.ts";

const help = `drumlin node add NAME --data DIR      makes a secret for a node; shown once
drumlin node rotate NAME --data DIR   makes a new one: the old is over, and a session with it is dropped
drumlin node revoke NAME --data DIR   takes it away: the node is dropped within a second
drumlin node list --data DIR          names of the nodes that may sign in
With --json the answer is JSON. A running gateway notices at once.`;

/** `drumlin node`: nodes and their secrets. */
export const nodeCommand: Command = {
  name: "node",
  summary: "names and secrets of nodes",
  help,
  async run(args) {
    const options = readOptions(args, { data: "text", json: "flag" });
    const [what, name, ...more] = options.rest;
    const json = options.flag("json");
    if (what !== "list" && (name === undefined || more.length > 0))
      throw new UsageError("say add, rotate, revoke or list, and a name.");
    return withAccounts(options.text("data"), async ({ nodes }) => {
      switch (what) {
        case "list":
          console.log(json ? JSON.stringify(nodes.names()) : nodes.names().join("\n"));
          return;
        case "add":
        case "rotate": {
          if (what === "rotate" && !nodes.names().includes(name as string))
            throw new UsageError(`there is no node ${name}: "node add" makes one.`);
          const secret = await nodes.put(name as string, byCommandLine);
          console.log(json ? JSON.stringify({ node: name, secret }) : secret);
          return;
        }
        case "revoke":
          nodes.revoke(name as string, byCommandLine);
          console.log(
            json ? JSON.stringify({ node: name, revoked: true }) : `${name} may no longer sign in.`,
          );
          return;
        default:
          throw new UsageError("say add, rotate, revoke or list.");
      }
    });
  },
};
