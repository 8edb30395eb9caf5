import type { Metric } from "./components.ts";

function labelsText(labels: Readonly<Record<string, string>> | undefined): string {
  const pairs = Object.entries(labels ?? {}).map(
    ([name, value]) =>
      `${name}="${value.replaceAll("\\", "\\\\").replaceAll('"', '\\"').replaceAll("\n", "\\n")}"`,
  );
  return pairs.length > 0 ? `{${pairs.join(",")}}` : "";
}

/** Metrics as OpenMetrics 1.0 text. */
export function openMetricsText(metrics: readonly Metric[]): string {
  const lines = metrics.flatMap(({ name, help, type, samples }) => [
    `# TYPE ${name} ${type}`,
    `# HELP ${name} ${help}`,
    ...samples.map(
      ({ labels, value }) => `${name}${type === "counter" ? "_total" : ""}${labelsText(labels)} ${value}`,
    ),
  ]);
  return `${lines.join("\n")}\n# EOF\n`;
}
