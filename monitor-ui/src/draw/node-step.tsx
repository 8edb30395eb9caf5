import type { LineDrawing, LineView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { Command } from "../components/command.tsx";
import { Field } from "../components/field.tsx";
import { NodeSecret } from "../components/first-steps.tsx";
import { gatewayNowMs } from "../data/state.ts";
import { asSet, duration } from "../format/numbers.ts";
import { count, say, w } from "../words/words.ts";
import { brokerOf, tryCommand } from "./try-command.ts";

const namePattern = /^[a-z0-9][a-z0-9-]{0,62}$/;

/** What a person calls a node, as it may be called: "Press room" is press-room; "" where nothing is left of it. */
const nameOf = (text: string) =>
  text
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .slice(0, 63)
    .replaceAll(/^-+|-+$/g, "");

/** Readings to try, each for a place that this line has: of the supply, and of what comes out of its resin or membrane. */
const readingsFor = ({ stages }: LineDrawing) => [
  { n: "t-1", u: "Cel", v: 18.2 },
  { n: "ec-1", u: "S/m", v: 0.0412 },
  ...(stages.some(({ kind }) => kind === "resin" || kind === "membrane")
    ? [{ n: "ec-2", u: "S/m", v: 0.00008 }]
    : []),
];

/** Under so much an age is no news: it was heard now. */
const nowWithinMs = 15_000;

function heardWords(lastSeen: string): string {
  const ageMs = gatewayNowMs.value - Date.parse(lastSeen);
  return ageMs < nowWithinMs ? w.draw.heardNow : say(w.draw.heardAgo, { duration: duration(ageMs) });
}

const isHere = (host: string) => host === "127.0.0.1" || host === "localhost";

/** Nodes: a name and a secret for each, lines to copy, and which of them was heard. */
export function NodeStep({ drawing, line }: { readonly drawing: LineDrawing; readonly line: LineView }) {
  const [text, type] = useState("");
  const [named, name] = useState<readonly string[]>([]);
  const [made, keep] = useState<{ readonly node: string; readonly secret: string } | null>(null);
  const [problem, complain] = useState("");
  const nodes = [...new Set([...named, ...line.waitsFor.map(({ node }) => node)])];
  const add = () => {
    const node = text.trim();
    if (!namePattern.test(node)) {
      const name = nameOf(node);
      if (name === "") return complain(w.draw.nodeProblem);
      type(name);
      return complain(say(w.draw.nodeRenamed, { name }));
    }
    complain("");
    type("");
    if (!nodes.includes(node)) name([...named, node]);
  };
  const { host, port } = brokerOf(drawing.mqtt);
  const first = made?.node ?? nodes[0] ?? "press";
  return (
    <>
      <h2>{w.draw.nodesTitle}</h2>
      <div class="cols c2">
        <Card title={w.draw.secretEach}>
          <p class="soft">{w.draw.secretWhat}</p>
          <form
            class="form"
            onSubmit={(event) => {
              event.preventDefault();
              add();
            }}
          >
            <Field label={w.draw.nodeName} hint={w.draw.nodeHint}>
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
                {w.draw.addNode}
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
          <Card title={w.draw.sendsTo}>
            <Command text={`host ${host}\nport ${port}\ntopic drumlin/1/${line.site}/${first}/readings`} />
            {isHere(host) && <p class="sm">{w.draw.loopback}</p>}
            <p class="soft sm">{isHere(host) ? w.draw.beNodeHere : w.draw.beNode}</p>
            <Command
              text={tryCommand({
                mqtt: drawing.mqtt,
                site: line.site,
                node: first,
                secret: made?.secret ?? null,
                readings: readingsFor(drawing),
              })}
            />
            <p class="soft sm">
              {w.draw.nothingHappens} <a href="#nodes">{w.draw.steps.nodes}</a> {w.steps.nodesShow}
            </p>
          </Card>
          <Card title={w.draw.heardSoFar}>
            {line.nodes.length === 0 ? (
              <p class="soft">{w.draw.noneYet}</p>
            ) : (
              <ul class="pairs-list">
                {line.nodes.map(({ id, lastSeen, packs, unassigned }) => (
                  <li key={id}>
                    <b>{id}</b>
                    <span class="soft sm">
                      {lastSeen === null
                        ? w.draw.notHeard
                        : `${heardWords(lastSeen)} · ${count(w.nodeWords.messages, packs, { count: asSet(packs) })}`}
                      {unassigned.length > 0 &&
                        ` · ${say(w.draw.withoutPlace, { count: unassigned.length })}`}
                    </span>
                  </li>
                ))}
              </ul>
            )}
          </Card>
        </div>
      </div>
    </>
  );
}
