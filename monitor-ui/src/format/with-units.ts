import { Fragment, options, type VNode } from "preact";

const units = "(?=(?:[Llhs%]|gal|min|m[LgsVm]?|kg|°[CF]|[µum]?S)(?![\\p{L}\\d]))";
const within = new RegExp(`(\\d) ${units}`, "gu");
const atBegin = new RegExp(`^ ${units}`, "u");
const apart = "\u00a0";

/** What is copied keeps its spaces. */
const asWritten = new Set<unknown>(["pre", "code", "textarea"]);

/** A text whose numbers keep their units at the end of a row: "239 L" has a no-break space. */
export const withUnits = (text: string): string => text.replace(within, `$1${apart}`);

function kept(child: unknown, at: number): unknown {
  if (typeof child === "string") {
    const text = child.includes(" ") ? withUnits(child) : child;
    // Its number stands before it, as a piece of its own.
    return at > 0 && text.startsWith(" ") ? text.replace(atBegin, apart) : text;
  }
  return Array.isArray(child) ? child.map(kept) : child;
}

/** From now on every text of the page keeps its numbers with their units, whoever wrote it. */
export function keepUnits(): void {
  const before = options.vnode;
  options.vnode = (vnode: VNode) => {
    const { type, props } = vnode;
    if ((typeof type === "string" && !asWritten.has(type)) || type === Fragment) {
      const own = props as { children?: unknown };
      if (own.children !== undefined) own.children = kept(own.children, 0);
    }
    before?.(vnode);
  };
}
