import { everyCode } from "@drumlin/gateway/http";
import { describe, expect, it } from "vitest";
import { bareApi } from "./bare-api.ts";

const http = bareApi("operator");

const acknowledge = "/api/alarms/resin-breakthrough:after-resin/acknowledge";
const json = { "content-type": "application/json" };
function post(body: string, headers: Record<string, string> = json): RequestInit {
  return { method: "POST", body, headers };
}

const cases: readonly [name: string, path: string, init: RequestInit, status: number, code: string][] = [
  ["an unknown path", "/api/nothing", {}, 404, "not-found"],
  ["a method that a path does not take", "/api/line", { method: "PUT" }, 404, "not-found"],
  ["an address that can't be decoded", "/%zz", {}, 400, "query-not-understood"],
  ["an unknown point", "/api/points/nowhere/series", {}, 404, "point-unknown"],
  ["a list where one limit is meant", "/api/alarms/journal?limit=1&limit=2", {}, 400, "query-not-understood"],
  ["a word to find formulas by given twice", "/api/compute?find=a&find=b", {}, 400, "query-not-understood"],
  ["a stream's points given twice", "/api/live?points=a&points=b", {}, 400, "query-not-understood"],
  ["a stream's pace that is none", "/api/live?every=often", {}, 400, "query-not-understood"],
  ["a body cut short", acknowledge, post("{"), 400, "body-not-understood"],
  [
    "a key that stands twice: two readers would take two different ones",
    acknowledge,
    post('{"occurrence":"1.0","occurrence":"2.0"}'),
    400,
    "body-not-understood",
  ],
  [
    "the same key once more by its escapes, deep inside",
    "/api/notes",
    post('{"text":"a","more":[{"by":"a","\\u0062y":"b"}]}'),
    400,
    "body-not-understood",
  ],
  [
    "a key that would become everybody's",
    acknowledge,
    post('{"occurrence":"1.0","__proto__":{"role":"operator"}}'),
    400,
    "body-not-understood",
  ],
  [
    "a calibration from the year 26",
    "/api/calibrations",
    post('{"channel":"press/ec-1","points":[{"read":1,"true":1}],"validFrom":"0026-05-01T08:00:00Z"}'),
    400,
    "body-not-understood",
  ],
  [
    "a change of medium in the year 2062",
    "/api/media",
    post('{"stage":"resin","validFrom":"2062-05-01T08:00:00Z"}'),
    400,
    "body-not-understood",
  ],
  ["a body without its occurrence", acknowledge, post("{}"), 400, "body-not-understood"],
  ["plain text", acknowledge, post("{}", { "content-type": "text/plain" }), 400, "body-not-understood"],
  [
    "a form",
    acknowledge,
    post("a=b", { "content-type": "application/x-www-form-urlencoded" }),
    415,
    "not-json",
  ],
  ["a body over 64 KiB", acknowledge, post(`"${"x".repeat(66_000)}"`), 413, "body-too-large"],
  [
    "another site's page",
    acknowledge,
    post("{}", { ...json, origin: "http://other.test" }),
    403,
    "origin-not-allowed",
  ],
  ["an act on what does not stand", acknowledge, post('{"occurrence":"1/k:s/1"}'), 404, "no-such-alarm"],
  ["a line before there is one", "/api/line", {}, 503, "not-ready"],
  ["readiness while starting", "/readyz", {}, 503, "not-ready"],
];

describe("what the API refuses is a problem (RFC 9457) with a code of the registry", () => {
  it.each(cases)("%s", async (_name, path, init, status, code) => {
    const answer = await fetch(`http://127.0.0.1:${http.port}${path}`, {
      ...init,
      signal: AbortSignal.timeout(60_000),
    });
    expect(answer.headers.get("content-type")).toMatch(/^application\/problem\+json/);
    const problem = (await answer.json()) as Record<string, unknown>;
    expect({ status: answer.status, code: problem.code }).toEqual({ status, code });
    expect(problem.status).toBe(status);
    expect(Object.keys(everyCode)).toContain(problem.code);
    expect(problem.title).toBe(everyCode[code]?.title);
  });
});
