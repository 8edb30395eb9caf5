import type { FastifyInstance } from "fastify";
import { say } from "../../words/index.ts";
import { nodeRequestSchema } from "../bodies.ts";
import type { AskedOfNode, HttpComponents, NodeAnswer } from "../components.ts";
import { signedBy } from "../gate.ts";
import { everyCode, type ProblemCode } from "../problems.ts";
import { bodyOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { iso } from "../views.ts";

const problemOf: Readonly<Record<Exclude<NodeAnswer["outcome"], "done">, ProblemCode>> = {
  unknown: "no-such-node",
  offline: "node-offline",
  "not-understood": "node-does-not-understand",
  "asked-already": "node-asked-already",
  "too-many": "work-too-much",
  "broker-away": "broker-away",
  "kept-back": "broker-refuses-requests",
  "no-such-period": "body-not-understood",
  refused: "node-refused",
  "no-answer": "node-gave-no-answer",
};

/** Not on record: a program that asks over and over would push out what was asked. */
const turnedAway: ReadonlySet<NodeAnswer["outcome"]> = new Set(["asked-already", "too-many", "kept-back"]);

/** Why it was not done, in a sentence; a broker of somebody else may have rules that keep requests back, and does not say so. */
function whyNot(node: string, { kind }: AskedOfNode, answer: NodeAnswer, isOutside: boolean): string {
  switch (answer.outcome) {
    case "unknown":
      return `No node called ${node} was heard.`;
    case "offline":
      return `${node} is not there now.`;
    case "not-understood":
      return `${node} does not say that it understands ${kind}.`;
    case "asked-already":
      return `${node} was asked that just now.`;
    case "refused":
      return say("node-refused", { node, reason: answer.reason });
    case "no-answer":
      return isOutside ? say("node-unanswered-outside", { node }) : `${node} gave no answer within 5 s.`;
    case "broker-away":
      return "The broker can't be spoken to now.";
    case "kept-back":
      return "The broker ends the connection for requests to nodes: none is sent for 10 min.";
    default:
      return `${node} can't be asked for ${kind} now.`;
  }
}

/** Nodes, what they are asked, and what was refused of them. */
export function nodesRoutes(server: FastifyInstance, components: HttpComponents): void {
  const nodes = () => ({ items: components.lineView()?.nodes ?? [], next: null });
  server.get("/api/nodes", async () => nodes());
  server.post<{ Params: { id: string } }>("/api/nodes/:id/credentials", async (request) => {
    const { id } = request.params;
    return { node: id, secret: await components.accounts.nodes.put(id, signedBy(request)) };
  });
  server.delete<{ Params: { id: string } }>("/api/nodes/:id/credentials", async (request) => {
    components.accounts.nodes.revoke(request.params.id, signedBy(request));
    return nodes();
  });
  server.post<{ Params: { id: string } }>("/api/nodes/:id/request", async (request) => {
    const node = request.params.id;
    const asked = bodyOf(nodeRequestSchema, request.body);
    const answer = await components.askNode(node, asked);
    if (!turnedAway.has(answer.outcome))
      components.accounts.note({
        by: signedBy(request),
        what: "node-asked",
        subject: node.slice(0, 64),
        before: null,
        after: { ...asked, ...answer },
      });
    if (answer.outcome === "done") return { node, kind: asked.kind, outcome: answer.outcome };
    throw new Refusal(
      problemOf[answer.outcome],
      whyNot(node.slice(0, 64), asked, answer, components.mqtt().broker !== null),
    );
  });
  server.get("/api/rejections", async () => ({
    items: components.rejections().map((rejection) => ({
      code: rejection.code,
      title: everyCode[rejection.code]?.title ?? rejection.code,
      todo: everyCode[rejection.code]?.todo ?? "",
      node: rejection.node,
      count: rejection.count,
      lastAt: iso(rejection.lastAtMs),
      examples: rejection.examples.map(({ atMs, topic, detail, example }) => ({
        at: iso(atMs),
        topic,
        detail,
        example,
      })),
    })),
    next: null,
  }));
}
