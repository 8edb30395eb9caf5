// node tests/tooling/shape.ts
// The shape of the code: lengths of functions and files, positional parameters, doc comments of what is exported.
// The linter's own rule counts neither the lines of functions inside a function nor those of object methods; this does.
import { globSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";

const root = fileURLToPath(new URL("../../", import.meta.url));
const maxFunctionLines = 80;
const maxFileLines = 300;
const maxParameters = 4;
/** Share of what each room exports that has a doc comment. */
const leastDocumented = 0.95;
/** Fewer files than this means that nothing was read. */
const leastFiles = 500;

/** What is longer, or takes more, with its reason. */
const known: ReadonlyMap<string, string> = new Map([
  ["gateway/src/water/ions/ion.ts: row", "a row of a table, as it is printed"],
  ["gateway/src/quantities/out-of-range.ts: OutOfRange", "as requireInRange"],
  [
    "gateway/src/quantities/out-of-range.ts: requireInRange",
    "said 230 times: name, value, least, greatest, unit",
  ],
  ["gateway/src/series/influx/influx-series.ts: buckets", "the four of SeriesStore, and where it is to end"],
]);

/** Non-blank lines of a node. */
const linesOf = (text: string) => text.split("\n").filter((line) => line.trim() !== "").length;

function nameOf(node: ts.Node): string {
  const named = node as { readonly name?: ts.Node };
  const parent = node.parent as { readonly name?: ts.Node } | undefined;
  return (named.name ?? parent?.name)?.getText() ?? "(unnamed)";
}

/** A channel's name is taken apart in one place only. */
const takesChannelApart = /[cC]hannel\.(split|indexOf)\("/;
const channelsPlace = "gateway/src/line/node-of.ts";

function* faultsOf(path: string, file: ts.SourceFile): Iterable<string> {
  if (path !== channelsPlace && takesChannelApart.test(file.text))
    yield `${path}: takes a channel's name apart; ask nodeOf or nameAtNode of the line`;
  const count = file.text.split("\n").length - 1;
  if (count > maxFileLines) yield `${path}: ${maxFileLines} lines`;
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isFunctionLike(node) && "body" in node && node.body) {
      const lines = linesOf(node.getText());
      if (lines > maxFunctionLines) found.push(`${path}: ${nameOf(node)} (${lines} lines)`);
      if (node.parameters.length > maxParameters) found.push(`${path}: ${nameOf(node)}`);
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  yield* found;
}

function* exportsOf(file: ts.SourceFile): Iterable<ts.Statement> {
  for (const statement of file.statements)
    if (
      ts.canHaveModifiers(statement) &&
      ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)
    )
      yield statement;
}

interface Documented {
  count: number;
  readonly missing: string[];
}

const isDocumented = (statement: ts.Statement) => ts.getJSDocCommentsAndTags(statement).length > 0;

const paths = globSync(["gateway/src/**/*.ts", "firmware-protocol/src/**/*.ts"], { cwd: root }).sort();
const rooms = new Map<string, Documented>();
const faults: string[] = [];
for (const path of paths.map((one) => one.replaceAll("\\", "/"))) {
  const text = readFileSync(join(root, path), "utf8");
  const file = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true);
  faults.push(...faultsOf(path, file));
  const room = path.startsWith("gateway/src/") ? (path.split("/")[2] ?? "") : "firmware-protocol";
  const of = rooms.get(room) ?? { count: 0, missing: [] };
  rooms.set(room, of);
  for (const statement of exportsOf(file)) {
    of.count += 1;
    if (!isDocumented(statement)) of.missing.push(`${path}: ${statement.getText().split("\n")[0]}`);
  }
}
for (const [room, { count, missing }] of rooms)
  if (count - missing.length < leastDocumented * count)
    faults.push(
      `${room}: ${missing.length} of ${count} exports have no doc comment\n  ${missing.join("\n  ")}`,
    );
if (paths.length < leastFiles) faults.push(`Only ${paths.length} files were read: it can't be trusted.`);
const open = faults.filter((fault) => !known.has(fault));
for (const fault of open) console.error(fault);
const documented = [...rooms.values()].reduce((sum, { count, missing }) => sum + count - missing.length, 0);
const exported = [...rooms.values()].reduce((sum, { count }) => sum + count, 0);
console.log(
  `shape: ${paths.length} files, ${documented} of ${exported} exports documented, ${open.length} faults`,
);
process.exitCode = open.length > 0 ? 1 : 0;
