// `npm run check-values`: formula, source, count, worst error against tolerance, for every value from outside.
import { checkedValues, formulasWithoutRow } from "./read-value-tables.ts";

const values = checkedValues();
const groups = Map.groupBy(
  values,
  (value) => `${value.formula}\t${value.output}\t${value.kind}\t${value.source}`,
);
let bad = 0;
for (const [key, group] of groups) {
  const [formula, output, kind, source] = key.split("\t");
  const worst = Math.max(...group.map((value) => value.share));
  if (worst > 1) bad += group.filter((value) => value.share > 1).length;
  console.log(
    `${worst > 1 ? "BAD " : "good"} ${String(group.length).padStart(4)}  worst ${worst.toFixed(2).padStart(5)} of tolerance  ${`${formula} ${output}`.padEnd(46)} ${kind}: ${source}`,
  );
  for (const value of group.filter((one) => one.share > 1))
    console.log(
      `       ${JSON.stringify(value.inputs)} expected ${JSON.stringify(value.expected)} got ${JSON.stringify(value.got)} ${value.problem ?? ""}`,
    );
}
const count = (kind: string) => values.filter((value) => value.kind === kind).length;
console.log(
  `${values.length} values: ${count("published")} published, ${count("oracle")} of other programs, ${count("memory")} from memory, ${count("bound")} bounds of our own; ${bad} outside their tolerance`,
);
const rowless = formulasWithoutRow(values);
for (const id of rowless) console.log(`no row  ${id}`);
console.log(`${rowless.length} formulas without a row`);
process.exitCode = bad === 0 && rowless.length === 0 && values.length > 0 ? 0 : 1;
