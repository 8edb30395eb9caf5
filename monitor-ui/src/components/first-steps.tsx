import type { LineDrawing, LineView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { useAsked } from "../data/asked.ts";
import { mayAct } from "../data/me.ts";
import { send } from "../data/send.ts";
import { tryCommand } from "../draw/try-command.ts";
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
        The line is drawn. Nothing has been heard yet.
      </h2>
      <p class="soft">
        Three steps, about five minutes. This page changes by itself when the first reading arrives.
      </p>
      <div class="cols c21">
        <ol class="steps">
          <li class="done">
            <div>
              <h3>Describe the line</h3>
              <p>Done: {parts.join(", ")}.</p>
            </div>
          </li>
          <li>
            <div>
              <h3>Give each node its secret</h3>
              <p>A node signs in with its name and a secret that is shown once.</p>
              {mayAct.value ? (
                line.waitsFor.map(({ node }) => (
                  <NodeSecret key={node} node={node} onMade={(one) => keep((before) => [...before, one])} />
                ))
              ) : (
                <p>Ask an operator, or make the first account.</p>
              )}
            </div>
          </li>
          <li>
            <div>
              <h3>Send a first reading</h3>
              <p>
                From any machine on this network, with the secret from step 2. The supply should show about
                517 µS/cm: until a temperature comes, 15 °C is assumed.
              </p>
              {drawing && <Command text={tryOf(drawing, line, made)} />}
              <p class="sm">
                Nothing happens? <a href="#nodes">Nodes</a> shows what was refused, and why. A sketch for a
                microcontroller is in the README.
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
    <Card title="Waiting for">
      <ul class="pairs-list">
        {line.waitsFor.map(({ node, channels }) => (
          <li key={node}>
            <b>{node}</b>
            <span class="soft sm">not heard yet · {channels.join(", ")}</span>
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
          name={`Make a secret for ${node}`}
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
            <b>{node}</b>: shown once. Copy it now.
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
  return tryCommand({ mqtt, site: line.site, node, channel, secret });
}
