import type { Line } from "../line/index.ts";
import type { Act, ActRefused } from "./act.ts";

function refused(code: ActRefused["code"], what: string, id: string): ActRefused {
  return { code, message: `The line has no ${what} ${id}.` };
}

const has = (things: readonly { readonly id: string }[] | undefined, id: string): boolean =>
  things?.some((thing) => thing.id === id) ?? false;

/** What an act is about must be on the line: null when it is, or when the act is about nothing on it. */
export function unknownSubject(act: Act, line: Line | null): ActRefused | null {
  switch (act.type) {
    case "medium-change":
      return has(line?.stages, act.stage) ? null : refused("no-such-stage", "stage", act.stage);
    case "work-on": {
      const { kind, id } = act.subject;
      if (kind === "stage") return has(line?.stages, id) ? null : refused("no-such-stage", kind, id);
      return has(line?.drums, id) ? null : refused("no-such-drum", kind, id);
    }
    case "proof-test":
      return line?.drums.some((drum) => has(drum.floats, act.float))
        ? null
        : refused("no-such-float", "float", act.float);
    case "fill-started":
    case "fill-stopped":
    case "release":
      return has(line?.drums, act.drum) ? null : refused("no-such-drum", "drum", act.drum);
    default:
      return null;
  }
}
