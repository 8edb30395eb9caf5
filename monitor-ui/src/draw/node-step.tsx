import type { LineDrawing, LineView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { Command } from "../components/command.tsx";
import { Field } from "../components/field.tsx";
import { NodeSecret } from "../components/first-steps.tsx";
import { gatewayNowMs } from "../data/state.ts";
import { duration } from "../format/numbers.ts";
import { brokerOf, tryCommand } from "./try-command.ts";

const namePattern = /^[a-z0-9][a-z0-9-]{0,62}$/;

/** Nodes: a name and a secret for each, lines to copy, and which of them was heard. */
export function NodeStep({ drawing, line }: { readonly drawing: LineDrawing; readonly line: LineView }) {
  const [text, type] = useState("");
  const [named, name] = useState<readonly string[]>([]);
  const [made, keep] = useState<{ readonly node: string; readonly secret: string } | null>(null);
  const [problem, say] = useState("");
  const nodes = [...new Set([...named, ...line.waitsFor.map(({ node }) => node)])];
  const add = () => {
    const node = text.trim();
    if (!namePattern.test(node)) return say("Small letters, digits and hyphens, such as press or drum-room.");
    say("");
    type("");
    if (!nodes.includes(node)) name([...named, node]);
  };
  const { host, port } = brokerOf(drawing.mqtt);
  const first = made?.node ?? nodes[0] ?? "press";
  return (
    <>
      <h2>Nodes: the microcontrollers along the line</h2>
      <div class="cols c2">
        <Card title="Give each its secret">
          <p class="soft">
            A node signs in with its name and a secret that is shown once. Call it after where it hangs.
          </p>
          <form
            class="form"
            onSubmit={(event) => {
              event.preventDefault();
              add();
            }}
          >
            <Field label="Name of the node" hint="Small letters, digits and hyphens, such as press.">
              <input
                value={text}
                autocapitalize="none"
                autocomplete="off"
                spellcheck={false}
                onInput={({ currentTarget }) => type(currentTarget.value)}
              />
            </Field>
            <div>
              <button type="submit" class="btn">
                Add the node
              </button>
            </div>
            <p class="answer problem" role="status">
              {problem}
            </p>
          </form>
          {nodes.map((node) => (
            <NodeSecret key={node} node={node} onMade={keep} />
          ))}
        </Card>
        <div>
          <Card title="Heard so far">
            {line.nodes.length === 0 ? (
              <p class="soft">None yet. This list changes by itself.</p>
            ) : (
              <ul class="pairs-list">
                {line.nodes.map(({ id, lastSeen, packs, unassigned }) => (
                  <li key={id}>
                    <b>{id}</b>
                    <span class="soft sm">
                      {lastSeen === null
                        ? "not heard yet"
                        : `heard ${duration(gatewayNowMs.value - Date.parse(lastSeen))} ago · ${packs} messages`}
                      {unassigned.length > 0 && ` · ${unassigned.length} without a place`}
                    </span>
                  </li>
                ))}
              </ul>
            )}
          </Card>
          <Card title="Where it sends to">
            <Command text={`host ${host}\nport ${port}\ntopic drumlin/1/${line.site}/${first}/readings`} />
            <p class="soft sm">Or be the node once, from any machine on this network:</p>
            <Command
              text={tryCommand({
                mqtt: drawing.mqtt,
                site: line.site,
                node: first,
                secret: made?.secret ?? null,
              })}
            />
            <p class="soft sm">
              Nothing happens? <a href="#nodes">Nodes</a> shows what was refused, and why.
              {host === "127.0.0.1" &&
                " At 127.0.0.1 only this machine is listened to: start the gateway with --mqtt 0.0.0.0:1883 for nodes in the house."}
            </p>
          </Card>
        </div>
      </div>
    </>
  );
}
