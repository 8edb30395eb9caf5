import type { LineDrawing, LineView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { useAsked } from "../data/asked.ts";
import { mayAct } from "../data/me.ts";
import { send } from "../data/send.ts";
import { tryCommand } from "../draw/try-command.ts";
import { say, w } from "../words/words.ts";
import { Card } from "./card.tsx";
import { Command } from "./command.tsx";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

interface Made {
  readonly node: string;
  readonly secret: string;
}

/** What must be done until the first reading is here: a secret for each node, and a reading to try. */
export function FirstSteps({ line }: { readonly line: LineView }) {
  const [made, keep] = useState<readonly Made[]>([]);
  const { answer: drawing } = useAsked<LineDrawing>("/api/line/drawing");
  const parts = [...line.stages.map(({ title }) => title), ...line.drums.map(({ title }) => title)];
  return (
    <section class="first-steps" aria-labelledby="first-steps">
      <h2 id="first-steps" class="h1">
        {w.steps.title}
      </h2>
      <p class="soft">{w.steps.about}</p>
      <div class="cols c21">
        <ol class="steps">
          <li class="done">
            <div>
              <h3>{w.steps.describe}</h3>
              <p>{say(w.steps.described, { parts: parts.join(", ") })}</p>
            </div>
          </li>
          <li>
            <div>
              <h3>{w.steps.secrets}</h3>
              <p>{w.steps.secretsWhat}</p>
              {mayAct.value ? (
                line.waitsFor.map(({ node }) => (
                  <NodeSecret key={node} node={node} onMade={(one) => keep((before) => [...before, one])} />
                ))
              ) : (
                <p>{w.steps.askOperator}</p>
              )}
            </div>
          </li>
          <li>
            <div>
              <h3>{w.steps.reading}</h3>
              <p>{w.steps.readingWhat}</p>
              {drawing && <Command text={tryOf(drawing, line, made)} />}
              <p class="sm">
                {w.steps.nothingHappens} <a href="#nodes">{w.frame.nodes}</a> {w.steps.nodesShow}
              </p>
            </div>
          </li>
        </ol>
        <WaitsFor line={line} />
      </div>
    </section>
  );
}

/** Nodes that the line names and that never spoke. */
export function WaitsFor({ line }: { readonly line: LineView }) {
  if (line.waitsFor.length === 0) return null;
  return (
    <Card title={w.steps.waitingFor}>
      <ul class="pairs-list">
        {line.waitsFor.map(({ node, channels }) => (
          <li key={node}>
            <b>{node}</b>
            <span class="soft sm">
              {w.steps.notHeardYet} · {channels.join(", ")}
            </span>
          </li>
        ))}
      </ul>
    </Card>
  );
}

/** Makes a node's secret, and shows it once with the lines for its sketch. */
export function NodeSecret({
  node,
  onMade,
}: {
  readonly node: string;
  readonly onMade?: (made: Made) => void;
}) {
  const acts = useActs();
  const [secret, show] = useState("");
  return (
    <div class="node-secret" ref={acts.host}>
      {secret === "" ? (
        <ActButton
          acts={acts}
          name={say(w.steps.makeSecret, { node })}
          subject={node}
          done=""
          send={async () => {
            const sent = await send<Made>(`/api/nodes/${encodeURIComponent(node)}/credentials`, {});
            if (sent.taken) {
              show(sent.told.secret);
              onMade?.(sent.told);
            }
            return sent;
          }}
        />
      ) : (
        <>
          <p role="status">
            <b>{node}</b>: {w.steps.shownOnce}
          </p>
          <Command text={`user ${node}\npassword ${secret}`} />
        </>
      )}
      <ActAnswer acts={acts} />
    </div>
  );
}

/** A command that sends a reading of the supply, with what is known of the node. */
function tryOf({ mqtt }: LineDrawing, line: LineView, made: readonly Made[]): string {
  const supply = line.points.find(({ probe }) => probe !== null)?.probe?.channel ?? "press/ec-1";
  const [node = "press", channel = "ec-1"] = supply.split("/");
  const secret = made.find((one) => one.node === node)?.secret ?? null;
  return tryCommand({ mqtt, site: line.site, node, secret, readings: [{ n: channel, u: "S/m", v: 0.0412 }] });
}
